package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// What nearly every top makes do with. Lists grow when one does not.
const (
	usualParts   = 6 // of a kind
	usualPlaces  = 12
	usualLayouts = 4
	usualLooks   = 10 // parts that are looked at
	usualPrints  = 26 // of these
	usualSlots   = 5  // alignment parts that are looked at on one seam
	usualEdges   = 4
	usualBars    = 24
	usualTries   = 3
	usualText    = 768
)

// begun returns a chooser with its lists in one block of memory.
func begun() *Chooser {
	b := new(struct {
		Chooser
		items    [3][usualParts]*catalogue.Fastener
		printed  [usualLooks]printed
		imprints [usualPrints]imprint
		layouts  [usualLayouts]shelved
		shelf    [usualLayouts]*shelved
		places   [2*usualLayouts + 4][usualPlaces]measure.Length
		spans    [3][usualPlaces]span
		starts   [usualPlaces]int
		slotted  [usualSlots]slotted
		walls    [usualSlots * usualEdges]Interval
		bars     [usualBars]bar
		barred   [usualLooks]barred
		edges    [2][usualEdges]Edge
		edged    [2][usualEdges]edged
		tries    [usualTries]try
		text     [usualText]byte
	})
	c := &b.Chooser
	c.alignment, c.screws, c.bolts = b.items[0][:0], b.items[1][:0], b.items[2][:0]
	c.prints.all, c.prints.list = b.printed[:0], b.imprints[:0]
	for i := range b.layouts {
		l := &b.layouts[i]
		l.work, l.pulls, l.aligns = &c.work, b.places[2*i][:0], b.places[2*i+1][:0]
		b.shelf[i] = l
	}
	c.shelf.all = b.shelf[:]
	rest := b.places[2*usualLayouts:]
	c.work = coverage{walls: b.spans[0][:0], allowed: b.spans[1][:0], reached: b.spans[2][:0], starts: b.starts[:0],
		pulls: rest[0][:0], aligns: rest[1][:0], pullHalf: rest[2][:0], slotHalf: rest[3][:0]}
	c.slotted, c.walls, c.bars, c.barred, c.text = b.slotted[:0], b.walls[:0], b.bars[:0], b.barred[:0], b.text[:0]
	c.tries = b.tries[:0]
	for i := range c.edged {
		c.seam.Sides[i].Edges, c.edged[i] = b.edges[i][:0], b.edged[i][:0]
	}
	return c
}
