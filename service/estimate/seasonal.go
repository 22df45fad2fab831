package estimate

import (
	"math"
	"slices"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// SeasonalOrder asks for the movement of slabs that stay behind the air, instead of the equilibrium bound. Without
// months and place the year is an even wave between the two seasons of the service climate.
type SeasonalOrder struct {
	Months []catalogue.Climate // twelve, or none
	Place  string              // of the catalogue, instead of months
	Rings  Rings
}

// ownYear reports whether the order brings its own year, which stands for the service climate.
func (s *SeasonalOrder) ownYear() bool { return s != nil && (len(s.Months) > 0 || s.Place != "") }

// Seasonal is a year of a run's slab.
type Seasonal struct {
	Lag     float64 // days after the air
	Damping float64
	Bound   Swing          // of the width, if the wood followed the air at once
	Cup     measure.Length // the greatest, to either side
	Months  []SlabMonth
}

// serviceYear takes the driest and the wettest month of the order's own year for its two seasons.
func (w *work) serviceYear(m *MoistureOrder) (dry, humid catalogue.Climate, err error) {
	if m.Profile != "" || m.Dry != nil || m.Humid != nil {
		return dry, humid, impossible(
			"/seasonal",
			"The year is given twice, by service and by seasonal.",
			"Give its months or place, or the service climate.",
		)
	}
	y := yearOf{
		work:  alone(w.units, false, w.cat),
		order: &SeasonsOrder{Months: m.Seasonal.Months, Place: m.Seasonal.Place},
	}
	if err := y.air(); err != nil {
		return dry, humid, fault.At("/seasonal", err)
	}
	low, high := y.top[0], y.top[0]
	for _, x := range y.top {
		low, high = min(low, x), max(high, x)
	}
	return catalogue.Climate{Moisture: measure.Moisture(low)}, catalogue.Climate{Moisture: measure.Moisture(high)}, nil
}

// resolveSeasonal sends the year through each run's slab: its driest and wettest mean stand for the seasons from there
// on, and the equilibrium bound is told beside.
func (w *work) resolveSeasonal() error {
	s := w.order.Moisture.Seasonal
	var wrong fault.List
	thickness := w.slabThickness() // alone it follows the air sooner than where strips lie under it: the safe side
	for i := range w.runs {
		r := &w.runs[i]
		if err := tooWetToDiffuse(r.wet.Humid); err != nil { // in the wave of the service climate: an own year was looked at before
			addOnce(&wrong, fault.At("/moisture/service", err))
			continue
		}
		a, err := w.yearOfSlab(SeasonsOrder{
			Units:     w.units,
			Species:   r.Run.Species,
			Sawn:      r.Sawn,
			Width:     r.Depth,
			Thickness: thickness,
			Making:    &catalogue.Climate{Moisture: r.wet.Making},
			Months:    s.year(r.wet),
			Place:     s.Place,
			Finish:    w.order.Finish,
			Rings:     s.Rings,
		})
		if err != nil {
			addOnce(&wrong, w.aboutRun(i, err)) // the year was looked at before; what is left is its wood
			continue
		}
		r.seasonal = &Seasonal{a.Year.Lag, a.Year.Damping, a.Bound, a.Year.Cup, a.Year.Months[:]}
		r.wet.Dry, r.wet.Humid = a.Year.Months[0].Mean, a.Year.Months[0].Mean
		for k := range a.Year.Months {
			r.wet.Dry, r.wet.Humid = min(r.wet.Dry, a.Year.Months[k].Mean), max(r.wet.Humid, a.Year.Months[k].Mean)
		}
		if i == 0 {
			w.tellSeasons(a)
		}
		addOnce(&wrong, fault.At("/top", w.moveRun(r)))
	}
	return wrong.Err()
}

// yearOfSlab is Seasons, remembered for the order at hand: its tops are mostly of the same slabs, as are the pieces of a run.
func (w *work) yearOfSlab(order SeasonsOrder) (*SeasonsAnswer, error) {
	for k := range w.bends.years {
		if known := &w.bends.years[k]; known.of.sameSlab(&order) {
			return known.answer, nil
		}
	}
	a, err := Seasons(order, w.cat)
	if err == nil {
		w.bends.years = append(w.bends.years, knownYear{order, a})
	}
	return a, err
}

// knownYear is what a year does to a slab.
type knownYear struct {
	of     SeasonsOrder
	answer *SeasonsAnswer
}

// sameSlab reports whether a year is asked for of the same slab. An order says nothing else of one.
func (o *SeasonsOrder) sameSlab(other *SeasonsOrder) bool {
	return o.Species == other.Species && o.Sawn == other.Sawn && o.Width == other.Width && o.Thickness == other.Thickness &&
		o.Finish == other.Finish && o.Place == other.Place && o.Rings == other.Rings && o.Units == other.Units &&
		*o.Making == *other.Making && slices.Equal(o.Months, other.Months)
}

// year is the order's own months, or an even wave between the two seasons, driest in January; nil at a place.
func (s *SeasonalOrder) year(wet Moistures) []catalogue.Climate {
	if s.ownYear() {
		return s.Months
	}
	months := make([]catalogue.Climate, 12)
	for k := range months {
		turn := math.Cos(2 * math.Pi * float64(k) / 12)
		months[k].Moisture = (wet.Dry+wet.Humid)/2 - (wet.Humid-wet.Dry)/2*measure.Moisture(turn)
	}
	return months
}

// tellSeasons takes over what the year of the first run rests on, at its places in an estimate.
func (w *work) tellSeasons(a *SeasonsAnswer) {
	places := map[string]string{"/species": "/top/species", "/finish/excluding": "/finish/system"}
	for _, x := range a.Assumptions {
		at, there := places[x.Pointer]
		if !there && !strings.HasPrefix(x.Pointer, "/finish") {
			at = "/moisture/seasonal" + x.Pointer
		}
		if at != "" {
			w.assume(at, x.Value, x.Why)
		}
	}
	for _, x := range a.Warnings {
		if strings.HasPrefix(x.Pointer, "/place") {
			w.warn(x.Code, x.Severity, "/moisture/seasonal/place", x.Text)
		}
	}
	for _, x := range a.Sources {
		w.cite(x.ID)
	}
}
