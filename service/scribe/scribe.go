// Package scribe fits a slab to a wall that is not straight: the best line through offsets from a string, and how deep wood
// is to be removed at each station so that the edge follows the wall.
package scribe

import "seamwright/service/measure"

// Offset is how far a wall lies behind a string at a station along it: positive where it draws back from the room,
// negative where it bulges into it.
type Offset struct{ At, Off measure.Length }

// Station is a place of the scribe table.
type Station struct {
	Offset
	Remove measure.Length // depth of wood to remove from the straight edge of the blank; least 0
	Extra  measure.Length // by how much the finished slab reaches beyond its nominal edge there; least 0
}

// Profile is a wall as a slab meets it.
type Profile struct {
	Slope     float64 // of the best line against the string: rise per length
	Intercept measure.Length
	Stations  []Station
	Greatest  measure.Length // depth to remove: the blank is wider by it; 0 for a straight wall
}

// straight is a depth that nobody scribes: a tenth of a pencil line. Common practice.
const straight = measure.Millimetre / 20

// Fit is the line through the offsets that leaves the least sum of squares,
//
//	slope = Σ(x − x̄)(y − ȳ)/Σ(x − x̄)²,  intercept = ȳ − slope·x̄.
//
// There are at least two offsets at different stations.
//
// Source: the method of least squares (C. F. Gauss).
func Fit(offsets []Offset) (slope float64, intercept measure.Length) {
	n := measure.Length(len(offsets))
	var x, y measure.Length
	for _, o := range offsets {
		x += o.At / n
		y += o.Off / n
	}
	var xy, xx float64
	for _, o := range offsets {
		xy += float64((o.At - x) * (o.Off - y))
		xx += float64((o.At - x) * (o.At - x))
	}
	slope = xy / xx
	return slope, y - measure.Length(slope)*x
}

// Of lays the best line along a wall, and shifts it to where the wall draws back most: from there wood is removed
// everywhere and added nowhere. Where the wall bulges most, the slab has its nominal depth.
func Of(offsets []Offset) Profile {
	p := Profile{Stations: make([]Station, len(offsets))}
	p.Slope, p.Intercept = Fit(offsets)
	var least, most measure.Length // the best line has offsets on both sides
	for i, o := range offsets {
		off := o.Off - p.Intercept - measure.Length(p.Slope)*o.At
		p.Stations[i] = Station{Offset: o, Extra: off}
		least, most = min(least, off), max(most, off)
	}
	if p.Greatest = most - least; p.Greatest < straight {
		p.Greatest = 0
	}
	for i := range p.Stations {
		s := &p.Stations[i]
		if p.Greatest == 0 {
			s.Extra = 0
			continue
		}
		s.Remove, s.Extra = most-s.Extra, s.Extra-least
	}
	return p
}

// ExtraAt is by how much the finished slab reaches beyond its nominal edge at a place: straight between stations, as at the
// nearest one beyond them.
func (p *Profile) ExtraAt(at measure.Length) measure.Length {
	s := p.station(at)
	return s.Extra
}

// station is the profile at a place: straight between stations, as at the nearest one beyond them.
func (p *Profile) station(at measure.Length) Station {
	for i := range p.Stations {
		s := p.Stations[i]
		if at > s.At {
			continue
		}
		if i == 0 {
			s.At = at
			return s
		}
		before := &p.Stations[i-1]
		between := func(a, b measure.Length) measure.Length { return a + (b-a)*(at-before.At)/(s.At-before.At) }
		return Station{Offset: Offset{At: at, Off: between(before.Off, s.Off)},
			Remove: between(before.Remove, s.Remove), Extra: between(before.Extra, s.Extra)}
	}
	s := p.Stations[len(p.Stations)-1]
	s.At = at
	return s
}

// Stretch is the profile from one place to another, reckoned from the first. Its line, and the depth that is removed, stay
// those of the whole wall.
func (p *Profile) Stretch(from, to measure.Length) *Profile {
	out := *p
	out.Intercept += measure.Length(p.Slope) * from
	out.Stations = []Station{p.station(from)}
	for _, s := range p.Stations {
		if s.At > from && s.At < to {
			out.Stations = append(out.Stations, s)
		}
	}
	out.Stations = append(out.Stations, p.station(to))
	for i := range out.Stations {
		out.Stations[i].At -= from
	}
	return &out
}

// Reversed is a profile of a length told from its other end.
func (p *Profile) Reversed(length measure.Length) *Profile {
	out := *p
	out.Slope, out.Intercept = -p.Slope, p.Intercept+measure.Length(p.Slope)*length
	out.Stations = make([]Station, 0, len(p.Stations))
	for i := len(p.Stations) - 1; i >= 0; i-- {
		s := p.Stations[i]
		s.At = length - s.At
		out.Stations = append(out.Stations, s)
	}
	return &out
}

// Foremost counts what is removed from where these stations draw back most: of a stretch of a wall that is cut from an edge of its own.
func (p *Profile) Foremost() {
	least, most := p.Reach(p.Stations[0].At, p.Stations[len(p.Stations)-1].At)
	if p.Greatest = most - least; p.Greatest < straight {
		p.Greatest = 0
	}
	for i := range p.Stations {
		if s := &p.Stations[i]; p.Greatest > 0 {
			s.Remove = most - s.Extra
		} else {
			s.Remove = 0
		}
	}
}

// Crooked reports whether anything is scribed from one place to another. A nil profile is straight.
func (p *Profile) Crooked(from, to measure.Length) bool {
	if p == nil || p.Greatest == 0 {
		return false
	}
	least, most := p.Reach(from, to)
	return most-least >= straight
}

// Reach is the least and the most that the slab reaches beyond its nominal edge from one place to another.
func (p *Profile) Reach(from, to measure.Length) (least, most measure.Length) {
	a, b := p.ExtraAt(from), p.ExtraAt(to)
	least, most = min(a, b), max(a, b)
	for i := range p.Stations {
		if s := &p.Stations[i]; s.At > from && s.At < to {
			least, most = min(least, s.Extra), max(most, s.Extra)
		}
	}
	return least, most
}
