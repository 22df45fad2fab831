package pack

import "seamwright/service/money"

// Shelf is the packs of one article, for one need after the other: what follows from the packs alone is worked out
// once. The zero value is empty; two goroutines must not share one.
type Shelf struct {
	packs    []Offer
	sound    bool    // no pack is malformed
	smallest float64 // content of the smallest pack
	single   int     // the cheapest pack: of several the one that holds least, of those the first
	small    int     // the smallest pack
	apart    bool    // mix has the packs
	fine     error   // why it cannot have them
	mix      *mix    // nil until a need asks for more than one pack
}

// Lay puts other packs on the shelf. It keeps the list: it must not change while the shelf is in use.
func (s *Shelf) Lay(packs []Offer) {
	s.packs, s.apart, s.fine = packs, false, nil
	s.sound, s.single, s.small, s.smallest = check(money.Quantity{}, packs) == nil, 0, 0, 0
	if !s.sound {
		return
	}
	for i := range packs {
		if by := packs[i].Price.Cmp(packs[s.single].Price); by < 0 || by == 0 && packs[i].Size.Cmp(packs[s.single].Size) < 0 {
			s.single = i
		}
		if packs[i].Size.Cmp(packs[s.small].Size) < 0 {
			s.small = i
		}
	}
	s.smallest = packs[s.small].Size.Float()
}

// Packs are the packs on the shelf.
func (s *Shelf) Packs() []Offer { return s.packs }

// One returns the single pack that is the cheapest choice when every pack holds the need: then nothing costs less than
// the cheapest of them (of several, the one that holds least, of those the first). ok is false when some pack is too
// small, or none is sound.
func (s *Shelf) One(need money.Quantity) (index int, ok bool) {
	return s.single, s.sound && s.packs[s.small].Size.Cmp(need) >= 0
}

// Cheapest is the function Cheapest for the packs on the shelf; it writes how many of each to buy into counts, which
// grows if it must.
func (s *Shelf) Cheapest(need money.Quantity, counts []int) (_ []int, proved bool, err error) {
	if f := need.Float(); !s.sound || !(f >= 0 && f <= mostUnits && f/s.smallest <= mostUnits) {
		if err := check(need, s.packs); err != nil {
			return counts, false, err
		}
	}
	counts = counts[:0]
	for range s.packs {
		counts = append(counts, 0)
	}
	if need.IsZero() {
		return counts, true, nil
	}
	if len(s.packs) == 1 {
		counts[0] = multiple(need, s.packs[0].Size)
		return counts, true, nil
	}
	if i, ok := s.One(need); ok {
		counts[i] = 1
		return counts, true, nil
	}
	total, ok := need.Millionths()
	if !ok {
		return counts, false, tooFine("/need", need.String())
	}
	if s.mix == nil {
		s.mix = new(mix)
	}
	if !s.apart {
		s.apart, s.fine = true, s.mix.takeApart(s.packs)
	}
	if s.fine != nil {
		return counts, false, s.fine
	}
	if err := s.mix.want(total, need); err != nil {
		return counts, false, err
	}
	return counts, s.mix.solve(counts), nil
}
