package takeoff

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// selling is how the volume of boards is counted in a unit of sale.
type selling struct {
	feet   float64 // board feet in one unit
	places uint8   // decimals that a board's content is rounded to
}

// saleOf is how boards of a unit are sold: a board foot is 144 in³ (NIST HB 44, App. C), the cubic metre is counted to a
// tenth of a litre, as boards hold some twenty litres.
func saleOf(unit catalogue.Unit) selling {
	if unit == catalogue.CubicMetre {
		return selling{feet: cubicMetreFeet, places: 4}
	}
	return selling{feet: 1, places: 2}
}

// cubicMetreFeet is how many board feet a cubic metre has: 423.776.
var cubicMetreFeet = measure.Volume(1e9).BoardFeet() // NIST HB 44, App. C

// BoardFeetIn is how many board feet an amount in a unit of sale has.
func BoardFeetIn(amount float64, unit catalogue.Unit) float64 { return amount * saleOf(unit).feet }

// ByLeastYield is how many board feet give so many net ones, by the least yield that the grade promises.
func ByLeastYield(net float64, l *catalogue.Lumber) float64 {
	return net / float64(l.ClearYield) / l.EdgingYield() // NHLA
}

// ByYield reports whether the grade's yield decided how much was bought: without the shortest of the boards
// the rest would hold less than it asks for. Else the pieces' lengths and widths did.
func (w *WoodPlan) ByYield() bool {
	var all, least measure.Length
	for _, b := range w.Boards {
		if b.Buy > 0 && (least == 0 || b.Length < least) {
			least = b.Length
		}
		all += b.Length * measure.Length(b.Buy)
	}
	return all > 0 && w.BuyBoardFeet*float64(1-least/all) < w.YieldBoardFeet
}

// content is what so many board feet are in the unit of sale, rounded as boards are.
func (u selling) content(feet float64) money.Quantity {
	return money.RoundQuantity(feet/u.feet, u.places)
}

// InUnit turns board feet of a purchase into its unit of sale, with the decimals that people are told.
func (w *WoodPlan) InUnit(feet float64) (amount float64, places int) {
	if w.Unit == catalogue.CubicMetre {
		return feet / cubicMetreFeet, 3
	}
	return feet, 1
}

// rate is what a board foot of clear wood costs between straight edges, by which stock is compared: of unedged boards
// the edges are paid too.
func rate(price money.UnitPrice, unit catalogue.Unit, l *catalogue.Lumber) float64 {
	return price.Float() / saleOf(unit).feet / float64(l.ClearYield) / l.EdgingYield()
}
