package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// seriesOf is the wish for hardware's sizes that an order comes to: its own, else the shop's; by units: those of the
// order's lengths.
func seriesOf(order *Order, set *catalogue.Settings) catalogue.SeriesWish {
	wish := order.Top.HardwareSeries
	if wish == "" {
		wish = set.HardwareSeries
	}
	switch {
	case wish != catalogue.SeriesByUnits:
		return wish
	case order.Units == measure.Inches:
		return catalogue.SeriesImperial
	default:
		return catalogue.SeriesMetric
	}
}

// in is the maker's catalogue with the hardware of a wish. It is made once.
func (m *Maker) in(wish catalogue.SeriesWish) *catalogue.Snapshot {
	v := m.views[wish]
	if v == nil {
		if m.views == nil {
			m.views = make(map[catalogue.SeriesWish]*catalogue.Snapshot, 3)
		}
		v = m.cat.In(wish)
		m.views[wish] = v
	}
	if v != m.cat {
		v.Settings = m.cat.Settings // which tests change
	}
	return v
}

// resolveSeries notes the sizes that hardware is chosen in, where it is not the usual way.
func (w *work) resolveSeries() {
	if w.series == catalogue.SeriesUsual || w.order.Top.HardwareSeries != "" {
		return
	}
	w.assume("/top/hardware_series", string(w.series), "the shop's setting hardware_series")
}

// warnSeries says which parts are of other sizes than those asked for.
func (w *work) warnSeries(c *chosen) {
	if w.series == catalogue.SeriesUsual {
		return
	}
	other := func(part *catalogue.Fastener, where, pointer string) {
		want := w.series.Series(part.Kind)
		if part.Series == catalogue.AnySeries || part.Series == want {
			return
		}
		w.warnOnce("hardware_series_mixed", Caution, pointer, fmt.Sprintf("The %s %s is of %s sizes: no %s %s on sale fits a top of %s. Have its drills and wrenches ready beside the others.",
			part.Kind.Traits().Name, where, part.Series, want, part.Kind.Traits().Name, w.phrase(w.order.Top.Thickness)))
	}
	for k, o := range c.options {
		if !o.Hardware.Feasible {
			continue
		}
		where, pointer := fmt.Sprintf("at corner %d", k+1), numbered("/top/corners/", k)
		if w.corners[k].inLine != nil {
			where = fmt.Sprintf("at straight seam %d", k+1)
		}
		other(&o.Hardware.Alignment.Part, where, pointer)
		for i := range o.Hardware.Pull.Groups {
			other(&o.Hardware.Pull.Groups[i].Part, where, pointer)
		}
	}
	if w.fixing != nil {
		other(w.fixing, "that holds the top down", "/top/fixing")
	}
}
