package takeoff

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Quarter- and rift-sawn boards are dearer than flat-sawn ones of the same grade and come narrower: each is less than
// half a log wide. The catalogue's rows are flat-sawn or mixed boards; how much dearer and how wide the others are is
// the shop's settings.
//
// Common practice; the demo figures are invented.

// sawnPrice is what a unit costs in a sawing.
func sawnPrice(flat money.UnitPrice, sawn catalogue.Sawn, s *catalogue.Settings) money.UnitPrice {
	switch sawn {
	case catalogue.QuarterSawn:
		return flat.MarkedUp(s.QuarterPrice)
	case catalogue.RiftSawn:
		return flat.MarkedUp(s.RiftPrice)
	default:
		return flat
	}
}

// sawnWidth is the working width of boards in a sawing.
func sawnWidth(flat measure.Length, sawn catalogue.Sawn, s *catalogue.Settings) measure.Length {
	switch sawn {
	case catalogue.QuarterSawn:
		return flat * measure.Length(s.QuarterWidth/100)
	case catalogue.RiftSawn:
		return flat * measure.Length(s.RiftWidth/100)
	default:
		return flat
	}
}

// sawnName says how a wood is sawn, where that has its own price.
func sawnName(name string, sawn catalogue.Sawn) string {
	switch sawn {
	case catalogue.QuarterSawn:
		return name + ", quarter-sawn"
	case catalogue.RiftSawn:
		return name + ", rift-sawn"
	default:
		return name
	}
}
