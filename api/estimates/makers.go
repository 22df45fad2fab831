package estimates

import (
	"sync"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
)

// makers are makers of estimates that nobody uses at the moment, each with its working memory.
var makers sync.Pool

// borrowMaker returns a maker for a catalogue, to be given back.
func borrowMaker(cat *catalogue.Snapshot) *estimate.Maker {
	if m, ok := makers.Get().(*estimate.Maker); ok && m.Catalogue() == cat {
		return m
	}
	return estimate.NewMaker(cat) // one of another catalogue is not given back, so that no old one is held in memory
}

// giveBack gives a maker back. It is not deferred: one that panicked is thrown away.
func giveBack(m *estimate.Maker) { makers.Put(m) }
