package pricelist

import (
	"math"
	"math/bits"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// kind is what a unit measures. Liquids and wood are both volumes and still never the same thing to buy.
type kind uint8

const (
	otherKind kind = iota
	countKind
	woodKind
	lengthKind
	areaKind
	liquidKind
	massKind
)

// ratio is a positive fraction in lowest terms.
type ratio struct{ over, under uint64 }

// size is what a unit holds in the plain unit of its kind: one piece, board foot, metre, square metre, litre or
// kilogram. All are exact.
//
//   - A foot is 0.3048 m and a square foot 0.09290304 m² (NIST SP 811, Appendix B.8, both marked exact).
//   - A board foot is 144 cubic inches of 16.387064 cm³ (SP 811, Appendix B, footnote 13): 2359.737216 cm³.
//   - A US gallon is 231 cubic inches (NIST Handbook 44, Appendix C): 3.785411784 l.
//   - A pound is 0.45359237 kg (SP 811, Appendix B, footnote 22).
func (u Unit) size() (kind, ratio) {
	switch u {
	case Each:
		return countKind, ratio{1, 1}
	case Hundred:
		return countKind, ratio{100, 1}
	case Thousand:
		return countKind, ratio{1000, 1}
	case BoardFoot:
		return woodKind, ratio{1, 1}
	case ThousandBoardFeet:
		return woodKind, ratio{1000, 1}
	case CubicMetre:
		return woodKind, lowest(1_000_000_000_000, 2_359_737_216) // 423.776000657… board feet
	case RunningMetre:
		return lengthKind, ratio{1, 1}
	case RunningFoot:
		return lengthKind, lowest(3048, 10_000) // NIST SP 811, B.8
	case SquareMetre:
		return areaKind, ratio{1, 1}
	case SquareFoot:
		return areaKind, lowest(9_290_304, 100_000_000) // NIST SP 811, B.8
	case Litre:
		return liquidKind, ratio{1, 1}
	case Gallon:
		return liquidKind, lowest(3_785_411_784, 1_000_000_000) // NIST HB 44, App. C: 231 in³
	case Kilogram:
		return massKind, ratio{1, 1}
	case Pound:
		return massKind, lowest(45_359_237, 100_000_000) // NIST SP 811, B.8
	default: // a pack holds what its row says
		return otherKind, ratio{}
	}
}

// lowest is a fraction in lowest terms; neither part is 0.
func lowest(over, under uint64) ratio {
	a, b := over, under
	for b != 0 {
		a, b = b, a%b
	}
	return ratio{over / a, under / a}
}

// times multiplies two fractions; ok is false when a part does not fit.
func (r ratio) times(s ratio) (product ratio, ok bool) {
	a, b := lowest(r.over, s.under), lowest(s.over, r.under)
	h1, over := bits.Mul64(a.over, b.over)
	h2, under := bits.Mul64(a.under, b.under)
	return ratio{over, under}, h1 == 0 && h2 == 0
}

// unitOf is an item's own unit among those of lists.
func unitOf(u catalogue.Unit) Unit {
	if u == catalogue.Metre {
		return RunningMetre
	}
	return Unit(u)
}

// contentIn is how many of an item's own units one unit of a list holds; ok is false when the unit does not fit the
// item. Wood by length or surface is reckoned with its rough thickness and, by length, its working width.
func (o *Own) contentIn(per Unit) (content ratio, ok bool) {
	ownKind, own := unitOf(o.Unit).size()
	listKind, list := per.size()
	switch {
	case ownKind == otherKind:
		return ratio{}, false
	case listKind == ownKind:
		return list.times(ratio{own.under, own.over})
	case ownKind == woodKind && (listKind == lengthKind || listKind == areaKind):
		if content, ok = o.woodIn(per); !ok {
			return ratio{}, false
		}
		return content.times(ratio{own.under, own.over})
	}
	return ratio{}, false
}

// woodIn is the board feet in a running or square foot or metre.
func (o *Own) woodIn(per Unit) (content ratio, ok bool) {
	thickness, ok := ticks(o.RoughThickness)
	if !ok {
		return ratio{}, false
	}
	switch deep := lowest(thickness, 1_000_000); per { // mm
	case SquareFoot: // a board foot is a square foot of 25.4 mm
		return deep.times(lowest(10, 254))
	case SquareMetre: // 10⁶ mm² · deep / 2 359 737.216 mm³
		return deep.times(lowest(1_000_000_000, 2_359_737_216))
	default:
		width, ok := ticks(o.WorkingWidth)
		if !ok {
			return ratio{}, false
		}
		section, ok := deep.times(lowest(width, 1_000_000)) // mm²
		if !ok {
			return ratio{}, false
		}
		if per == RunningFoot { // 304.8 mm · section / 2 359 737.216 mm³
			return section.times(lowest(100, 774_192))
		}
		return section.times(lowest(1_000_000, 2_359_737_216)) // 1000 mm · section / 2 359 737.216 mm³
	}
}

// ticks is a length in whole millionths of a millimetre; ok is false for none, and for one that is no such number: a
// 64th of an inch has six decimals.
func ticks(l measure.Length) (n uint64, ok bool) {
	x := l.Millimetres() * 1e6
	if !(x >= 1 && x <= 1e11) {
		return 0, false
	}
	r := math.Round(x)
	return uint64(r), math.Abs(x-r) <= 1e-15*x+1e-3
}
