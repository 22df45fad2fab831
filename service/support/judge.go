package support

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Kind is how a strip is held up.
type Kind string

// The ways.
const (
	Overhang Kind = "overhang" // held at one end, free at the other
	Span     Kind = "span"     // on two supports
	Spans    Kind = "spans"    // through over several
)

// Load is what lies on a strip.
type Load struct {
	Lasting   measure.Pressure // stays, such as the slab's own weight and what stands on it
	Passing   measure.Pressure // comes and goes
	Point     measure.Force    // at the tip, or in the middle of the worst span
	PointStay bool             // the point load stays as well
}

// Total is the uniform load at its greatest.
func (l Load) Total() measure.Pressure { return l.Lasting + l.Passing }

// None tells that there is nothing to carry.
func (l Load) None() bool { return l.Total() <= 0 && l.Point <= 0 }

// Beam is a strip on its supports.
type Beam struct {
	Section
	Wood    Wood
	Kind    Kind
	Lengths []measure.Length // of the overhang or the span; of all spans
	Back    measure.Length   // of an overhang: from the edge of the base to what holds the strip down; 0: held rigidly
	Load    Load
}

// Rules are a shop's bounds.
type Rules struct {
	Creep    float64        // long-term sag over the immediate one, of what lasts
	Safety   float64        // breaking stress over the greatest allowed
	Overhang float64        // an overhang's length over its greatest sag
	Span     float64        // a span's
	Most     measure.Length // greatest sag whatever the length
}

// RulesOf are the bounds in a shop's settings.
func RulesOf(s *catalogue.Settings) Rules {
	return Rules{Creep: s.SagCreep, Safety: s.SupportSafety,
		Overhang: s.OverhangLimit, Span: s.SpanLimit, Most: s.SagMost}
}

// Verdict is what a load does to a strip, and whether that may be.
type Verdict struct {
	Sag         measure.Length   // at once, under all of the load
	LongTerm    measure.Length   // after years of what lasts
	Stress      measure.Pressure // greatest bending stress
	Limit       measure.Length   // greatest sag allowed, for LongTerm
	StressLimit measure.Pressure // greatest stress allowed; 0: unknown, and only the sag is judged
	Holds       bool
	ByStrength  bool           // its strength is nearer to its bound than its sag
	Greatest    measure.Length // that holds, of several spans the longest, all in proportion; 0: beyond Longest
	Worst       int            // which span
}

// Longest is as long as a strip is looked at.
const Longest = 20 * measure.Metre

// Assess works out a strip under its load, but for its greatest length.
func Assess(b Beam, r Rules) Verdict {
	v := b.under(1, r)
	v.StressLimit = b.Wood.Strength / measure.Pressure(r.Safety)
	v.Holds = v.Use() <= 1
	v.ByStrength = v.strain() > float64(v.LongTerm/v.Limit)
	return v
}

// Judge works out a strip under its load. The greatest length is that at which either bound is just reached; sag and stress
// only grow with it.
func Judge(b Beam, r Rules) Verdict {
	v := Assess(b, r)
	if b.Load.None() {
		return v
	}
	longest := slices.Max(b.Lengths)
	high := float64(Longest / longest)
	if scale := Greatest(high, func(scale float64) float64 { return b.at(scale, r) }); scale < high {
		v.Greatest = longest * measure.Length(scale)
	}
	return v
}

// at is how much of its bounds the beam uses with all its lengths times a scale.
func (b *Beam) at(scale float64, r Rules) float64 {
	v := b.under(scale, r)
	v.StressLimit = b.Wood.Strength / measure.Pressure(r.Safety)
	return v.Use()
}

// UseOf is how much of its bounds an overhang or a single span uses in another length and width: Use of what Assess says of it.
func (b *Beam) UseOf(length, width measure.Length, r *Rules) float64 {
	section := Section{Width: width, Thickness: b.Thickness}
	crept, point := b.Load.Lasting*measure.Pressure(r.Creep)+b.Load.Passing, float64(b.Load.Point)
	now, late := line{b.Load.Total().Megapascals() * float64(width), point}, line{crept.Megapascals() * float64(width), point}
	if b.Load.PointStay {
		late.p *= r.Creep
	}
	share, l, back := r.Span, float64(length), float64(b.Back)
	var first, last effect
	if b.Kind == Overhang {
		share, first, last = r.Overhang, overhang(l, back, now.w, now.p), overhang(l, back, late.w, late.p)
	} else {
		first, last = span(l, now.w, now.p), span(l, late.w, late.p)
	}
	v := Verdict{LongTerm: measure.Length(last.sag / (b.Wood.Stiffness.Megapascals() * section.inertia())),
		Limit:  min(length*measure.Length(1/share), r.Most),
		Stress: section.Stress(first.moment), StressLimit: b.Wood.Strength / measure.Pressure(r.Safety)}
	return v.Use()
}

// Holds reports whether a strip stays within its bounds, as Assess does, and how many spans were looked at for that. Where it does
// not, its longest span with the load upon it nearly always tells.
func (b *Beam) Holds(r *Rules) (holds bool, looked int) {
	if b.Kind != Spans {
		return b.UseOf(b.Lengths[0], b.Width, r) <= 1, 1
	}
	var benches [2]bench
	now, late := b.lines(r)
	early, long := benches[0].beam(b.Lengths, 1, now), benches[1].beam(b.Lengths, 1, late)
	stiff, longest := b.Wood.Stiffness.Megapascals()*b.inertia(), 0
	for i, l := range b.Lengths {
		if l > b.Lengths[longest] {
			longest = i
		}
	}
	strength := b.Wood.Strength / measure.Pressure(r.Safety)
	breaks := func(i int) bool { return strength > 0 && b.Stress(early.most(i))/strength > 1 }
	sags := func(i int) bool {
		limit := min(b.Lengths[i]*measure.Length(1/r.Span), r.Most)
		sag := long.sagIn(i, long.most(i), float64(limit)*stiff*(1-1e-9))
		return measure.Length(sag/stiff)/limit > 1
	}
	early.at, long.at = longest, longest
	early.solve()
	long.solve()
	if looked = 1; breaks(longest) || sags(longest) {
		return false, looked
	}
	var noted [2]ledger
	of, lasting := noted[0].of(len(b.Lengths)), noted[1].of(len(b.Lengths))
	early.everywhere(of)
	long.everywhere(lasting)
	for i := range of {
		for k := range of[i] {
			if !of[i].same(k) {
				early.of(i, &of[i][k])
				if looked++; breaks(i) {
					return false, looked
				}
			}
			if !lasting[i].same(k) {
				long.of(i, &lasting[i][k])
				if looked++; sags(i) {
					return false, looked
				}
			}
		}
	}
	return true, looked
}

// lines are the loads along a strip at once, and those of which the sag in years comes.
func (b *Beam) lines(r *Rules) (now, late line) {
	crept := b.Load.Lasting*measure.Pressure(r.Creep) + b.Load.Passing
	now = line{b.Load.Total().Megapascals() * float64(b.Width), float64(b.Load.Point)}
	late = line{crept.Megapascals() * float64(b.Width), float64(b.Load.Point)}
	if b.Load.PointStay {
		late.p *= r.Creep
	}
	return now, late
}

// Use is the greater of sag and stress over what is allowed.
func (v *Verdict) Use() float64 { return max(float64(v.LongTerm/v.Limit), v.strain()) }

// strain is the stress over what is allowed, as far as that is known.
func (v *Verdict) strain() float64 {
	if v.StressLimit <= 0 {
		return 0
	}
	return float64(v.Stress / v.StressLimit)
}

// under is the sag and stress with all lengths times a scale, where they are worst for their bound.
func (b *Beam) under(scale float64, r Rules) Verdict {
	stiff := b.Wood.Stiffness.Megapascals() * b.inertia()
	now, late := b.lines(&r)
	share := r.Span
	if b.Kind == Overhang {
		share = r.Overhang
	}
	var room [2][8]effect
	atOnce, lasting := b.effects(scale, now, room[0][:0]), b.effects(scale, late, room[1][:0])
	var worst Verdict
	for i, l := range b.Lengths {
		first, last := atOnce[i], lasting[i]
		v := Verdict{Sag: measure.Length(first.sag / stiff), LongTerm: measure.Length(last.sag / stiff),
			Stress: b.Stress(first.moment), Limit: min(l*measure.Length(scale/share), r.Most), Worst: i}
		if i == 0 || v.LongTerm/v.Limit > worst.LongTerm/worst.Limit {
			v.Stress = max(v.Stress, worst.Stress)
			worst = v
		}
		worst.Stress = max(worst.Stress, v.Stress)
	}
	return worst
}

// line is a load along a strip: N/mm and N.
type line struct{ w, p float64 }

// effects adds what a load does to each length of the beam; of several spans the point load stands where it is worst for each.
func (b *Beam) effects(scale float64, on line, into []effect) []effect {
	if b.Kind != Spans {
		for _, l := range b.Lengths {
			if b.Kind == Overhang {
				into = append(into, overhang(float64(l)*scale, float64(b.Back), on.w, on.p))
			} else {
				into = append(into, span(float64(l)*scale, on.w, on.p))
			}
		}
		return into
	}
	var m bench
	var noted ledger
	s, of := m.beam(b.Lengths, scale, on), noted.of(len(b.Lengths))
	s.everywhere(of)
	for i := range of {
		var most effect
		for k := range of[i] {
			if of[i].same(k) {
				continue
			}
			s.of(i, &of[i][k])
			e := s.worst(i, most.sag)
			most = effect{sag: max(most.sag, e.sag), moment: max(most.moment, e.moment)}
		}
		into = append(into, most)
	}
	return into
}

// usualSpans is how many spans a beam has at most that asks for no memory.
const usualSpans = 32

// bench is where a beam over several supports is worked out.
type bench [5*usualSpans + 1]float64

// beam is a beam on a bench, not solved yet.
func (m *bench) beam(lengths []measure.Length, scale float64, on line) spans {
	n, all := len(lengths), m[:]
	if n > usualSpans {
		all = make([]float64, 5*n+1)
	}
	s := spans{length: all[:n], w: on.w, p: on.p, right: all[n : 2*n], diagonal: all[2*n : 3*n], share: all[3*n : 4*n], moments: all[4*n : 5*n+1]}
	for k, l := range lengths {
		s.length[k] = float64(l) * scale
	}
	s.eliminate()
	return s
}

// ledger is where the cases of a beam's spans are noted.
type ledger [usualSpans]cases

func (l *ledger) of(n int) []cases {
	if n > usualSpans {
		return make([]cases, n)
	}
	return l[:n]
}

// ShearShare is by how much of itself the sag is more than the printed modulus tells, for a strip shorter than 14 times its
// thickness, in whose test shear made a tenth: 0.1·((14·h/L)² − 1), never below zero.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Table 5-3, note; that the shear's share grows with (h/L)² is statics.
func ShearShare(thickness, length measure.Length) float64 {
	slender := 14 * float64(thickness/length)
	return max(0, (bendingShare-1)*(slender*slender-1))
}
