package seam

import (
	"seamwright/service/catalogue"
)

// drawn is how parts of one form are drawn and told.
type drawn struct {
	cut     string                                           // what is as wide as a mark's size: what must let it slide
	below   func(s *sheet, f *frame, m *mark)                // the view from below
	along   func(s *sheet, f *frame, m *mark, y, t float64)  // the joint face: y is the underside, t the thickness
	section func(s *sheet, x, y, w float64, m *mark) float64 // the section across the seam; returns where it ends
	told    func(s *sheet, m *mark) string                   // what is to be known of it
	across  func(s *sheet, m *mark, side float64) float64    // how far it reaches from the seam on one side of the page
	wide    func(m *mark) float64                            // how much of the seam it takes, from below
}

// drawings has a row for each form that stands in a seam.
var drawings = map[catalogue.FastenerForm]*drawn{
	catalogue.LetIn: {cut: "slot", below: (*sheet).slotBelow, along: (*sheet).slotAlong, section: (*sheet).slotSection,
		told:   (*sheet).slotTold,
		across: (*sheet).slotAcross, wide: (*mark).slotWide},
	catalogue.Pocketed: {cut: "hole", below: (*sheet).pocketBelow, along: (*sheet).pocketAlong,
		section: (*sheet).pocketSection, told: (*sheet).pocketTold, across: (*sheet).pocketAcross, wide: (*mark).pocketWide},
	catalogue.Recessed: {cut: "channel", below: (*sheet).boltBelow, along: (*sheet).boltAlong,
		section: (*sheet).boltSection, told: (*sheet).boltTold, across: (*sheet).boltAcross, wide: (*mark).boltWide},
}
