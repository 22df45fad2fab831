package estimate

import (
	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/support"
)

// woods remember how the woods of a catalogue bend, as they are sawn: nothing else counts, so that it stays from order to order. It is
// asked for all woods of the catalogue where a stiffer one is looked for.
type woods map[*catalogue.Species][]woodBent

type woodBent struct {
	sawn          catalogue.Sawn
	found         bool // else a figure lacks
	along, across support.Wood
	spread        float64
}

// of is how a wood bends.
func (m *woods) of(s *catalogue.Species, sawn catalogue.Sawn) woodBent {
	list := (*m)[s]
	for i := range list {
		if list[i].sawn == sawn {
			return list[i]
		}
	}
	known := woodBent{sawn: sawn}
	if along, across, err := bentWood(s, sawn); err == nil {
		known = woodBent{sawn, true, along, across, base.Spread(along.Stiffness, across.Stiffness)}
	}
	if *m == nil {
		*m = make(woods)
	}
	(*m)[s] = append(list, known)
	return known
}

// bentWood is how a wood bends both ways; see support.WoodOf.
func bentWood(s *catalogue.Species, sawn catalogue.Sawn) (along, across support.Wood, err error) {
	if along, err = support.WoodOf(s, sawn, support.Along); err == nil {
		across, err = support.WoodOf(s, sawn, support.Across)
	}
	return along, across, err
}
