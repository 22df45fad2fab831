package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// checked is what the check knows of one form.
type checked struct {
	room func(k *checker, f *catalogue.Fastener)                          // is there any in the thickness; nil: always
	cuts func(k *checker, f *catalogue.Fastener, at measure.Length) []cut // out of both pieces
	pull *checkedPull                                                     // nil: it pulls nothing
}

// checkedPull is what it knows of pull parts besides.
type checkedPull struct {
	holes       func(g *PullGroup) []measure.Length // what must let it slide
	shank, head func(f *catalogue.Fastener) measure.Length
	half        func(k *checker, f *catalogue.Fastener, at, hole measure.Length) measure.Length // of its room along the seam
	rules       func(s *catalogue.Settings) (end, spacing measure.Length)
	twoDo       bool // two of them hold any seam
	recesses    bool // with one in either piece, which may be elongated
}

// checks has a row for each form that stands in a seam.
var checks = [...]checked{
	catalogue.LetIn: {cuts: slotCuts},
	catalogue.Pocketed: {
		room: func(k *checker, f *catalogue.Fastener) {
			if bearingHead(f) > f.BoreDiameter {
				k.broken("the head of %s does not enter its pocket", f.Code)
			}
		},
		cuts: pocketCuts,
		pull: &checkedPull{
			holes: func(g *PullGroup) []measure.Length { return g.HoleDiameters },
			shank: func(f *catalogue.Fastener) measure.Length { return f.ThreadDiameter },
			head:  bearingHead,
			half: func(_ *checker, f *catalogue.Fastener, _, _ measure.Length) measure.Length {
				return f.BoreDiameter / 2
			},
			rules: func(s *catalogue.Settings) (end, spacing measure.Length) { return s.PocketEnd, s.PocketSpacing },
			twoDo: true,
		},
	},
	catalogue.Recessed: {
		room: func(k *checker, f *catalogue.Fastener) {
			if k.seam.Thickness < f.RecessDepth+k.set.WoodAboveRecess {
				k.broken("%s leaves too little wood above its recess", f.Code)
			}
		},
		cuts: boltCuts,
		pull: &checkedPull{
			holes: func(g *PullGroup) []measure.Length { return g.Channels },
			shank: func(f *catalogue.Fastener) measure.Length { return f.BoltDiameter },
			head:  func(f *catalogue.Fastener) measure.Length { return f.BearingDiameter },
			half: func(k *checker, f *catalogue.Fastener, at, hole measure.Length) measure.Length {
				return max(k.recess(f, at), f.BearingDiameter, hole) / 2
			},
			rules:    func(s *catalogue.Settings) (end, spacing measure.Length) { return s.BoltEnd, s.BoltSpacing },
			recesses: true,
		},
	},
}

// bearingHead is what of a screw bears: its washer, when that is larger and goes into the pocket.
func bearingHead(f *catalogue.Fastener) measure.Length {
	if head := max(f.HeadDiameter, f.WasherDiameter); head <= f.BoreDiameter {
		return head
	}
	return f.HeadDiameter
}

func slotCuts(k *checker, f *catalogue.Fastener, at measure.Length) []cut {
	if f.Kind.Traits().Plunged {
		return []cut{k.biscuit(f, 0, at), k.biscuit(f, 1, at)}
	}
	return []cut{rectangle("slot", 0, at, k.slot(f, at)/2, f.Length/2),
		rectangle("slot", 1, at, k.slot(f, at)/2, f.Length/2)}
}

func pocketCuts(k *checker, f *catalogue.Fastener, at measure.Length) (out []cut) {
	const lean = 15 * math.Pi / 180
	seat := float64(f.Length-f.Penetration) * math.Cos(lean)
	rim := float64(k.seam.Thickness)/2/math.Tan(lean) + float64(f.BoreDiameter)/2/math.Sin(lean)
	for side := range 2 {
		if side > 0 && k.seam.Joint.RunsThrough() { // a miter's screws may be bored from either piece
			break
		}
		out = append(out, rectangle("pocket", side, at, f.BoreDiameter/2,
			measure.Length(max(rim, seat+float64(f.BoreDiameter)))),
			rectangle("screw", 1-side, at, f.ThreadDiameter/2, f.Penetration*measure.Length(math.Cos(lean))))
	}
	return out
}

func boltCuts(k *checker, f *catalogue.Fastener, at measure.Length) (out []cut) {
	channel := max(f.BoltDiameter+2*k.slip(at)+k.set.HoleAllowance, f.BoltDiameter+k.set.HoleLeast) / 2
	more := (k.recess(f, at) - f.RecessDiameter) / 2
	for side := range 2 {
		out = append(out, rectangle("channel", side, at, channel, f.RecessDistance),
			cut{"recess", side, []plan.Point{{X: at - more, Y: f.RecessDistance}, {X: at + more, Y: f.RecessDistance}},
				f.RecessDiameter / 2})
	}
	return out
}
