package catalogue

// SeriesWish says in which sizes hardware is to be chosen.
type SeriesWish string

// The wishes.
const (
	SeriesUsual    SeriesWish = "usual"    // each kind in the sizes that most tools and dealers have
	SeriesByUnits  SeriesWish = "units"    // metric for orders in millimetres, imperial for those in inches
	SeriesMetric   SeriesWish = "metric"   // metric alone
	SeriesImperial SeriesWish = "imperial" // imperial alone
)

// Series is the one that a kind of hardware is chosen in under a wish.
func (w SeriesWish) Series(kind FastenerKind) Series {
	switch w {
	case SeriesMetric:
		return Metric
	case SeriesImperial:
		return Imperial
	case SeriesUsual, SeriesByUnits:
	}
	if usual := kind.Traits().Usual; usual != AnySeries {
		return usual
	}
	return kind.Form().usual()
}

// In is the catalogue with the hardware of a wish: of each kind the parts of its series and those that have none, and of
// another series only what fits a thickness that none of these fits. It is the catalogue itself where that is all of its
// hardware. The wish is not SeriesByUnits.
func (s *Snapshot) In(wish SeriesWish) *Snapshot {
	v := s.views[wish]
	if v == nil {
		return s
	}
	some := *s
	some.Fasteners, some.shelves = v.all, v.shelves
	return &some
}

// view is the hardware of a wish.
type view struct {
	all     []Fastener
	shelves shelves
}

// indexSeries prepares what In returns.
func (s *Snapshot) indexSeries() {
	s.views = make(map[SeriesWish]*view, 3)
	for _, wish := range []SeriesWish{SeriesUsual, SeriesMetric, SeriesImperial} {
		kept := make([]Fastener, 0, len(s.Fasteners))
		for i := range s.Fasteners {
			f := &s.Fasteners[i]
			if f.of(wish) || !s.covered(f, wish) {
				kept = append(kept, *f)
			}
		}
		if len(kept) < len(s.Fasteners) {
			s.views[wish] = &view{kept, shelvesOf(kept)}
		}
	}
}

// of reports whether a part is of the series that its kind is chosen in.
func (f *Fastener) of(wish SeriesWish) bool {
	return f.Series == AnySeries || f.Series == wish.Series(f.Kind)
}

// covered reports whether parts of the wish, of the same kind, fit every thickness that a part fits.
func (s *Snapshot) covered(part *Fastener, wish SeriesWish) bool {
	at := part.LeastThickness
	for again := true; again; {
		again = false
		for i := range s.Fasteners {
			f := &s.Fasteners[i]
			if f.Kind != part.Kind || !f.of(wish) || f.LeastThickness > at+seriesStep {
				continue
			}
			switch {
			case f.GreatestThickness == 0, part.GreatestThickness > 0 && f.GreatestThickness >= part.GreatestThickness-seriesStep:
				return true
			case f.GreatestThickness > at:
				at, again = f.GreatestThickness, true
			}
		}
	}
	return false
}

// seriesStep is by how much the two series' thicknesses may differ and still count as the same: 1/16 in and a millimetre
// do not meet.
const seriesStep = 2
