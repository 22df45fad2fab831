package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// form is what must be known of parts that sit in the wood in one way. The search tells pull parts apart beyond that:
// it puts screws near the held point and bolts further out.
type form struct {
	// of what it cuts out of both pieces
	prints func(to []Footprint, f *catalogue.Fastener, long bool, seam *Seam, s *catalogue.Settings) []Footprint
	// how far it reaches into a piece, along the underside
	near func(f *catalogue.Fastener) measure.Length
	// the same with all that is cut for it, at most
	far func(f *catalogue.Fastener, thickness measure.Length) measure.Length

	pull *pullForm // nil: it pulls nothing
}

// pullForm is what must be known of pull parts besides.
type pullForm struct {
	words   string // what a customer calls them
	end     func(s *catalogue.Settings) measure.Length
	cut     string                              // what must be wide enough for the slip
	widths  func(g *PullGroup) []measure.Length // how wide that is at each position
	holds   func(*Seam) string                  // says what they hold by
	formula string                              // of what they may hold
	source  source.ID
}

// forms has a row for each form that stands in a seam.
var forms = [...]form{
	catalogue.LetIn: {
		prints: slotFootprints,
		near:   func(f *catalogue.Fastener) measure.Length { return f.Length / 2 },
		far:    func(f *catalogue.Fastener, _ measure.Length) measure.Length { return f.Length },
	},
	catalogue.Pocketed: {
		prints: pocketFootprints,
		near:   func(f *catalogue.Fastener) measure.Length { return max(f.Length-f.Penetration, f.Penetration) },
		far: func(f *catalogue.Fastener, t measure.Length) measure.Length {
			return max(PocketRim(f, t), f.Penetration)
		},
		pull: &pullForm{
			words:   "screws",
			end:     func(s *catalogue.Settings) measure.Length { return s.PocketEnd },
			cut:     "exit holes",
			widths:  func(g *PullGroup) []measure.Length { return g.HoleDiameters },
			holds:   bite,
			formula: "count · 2850·G²·D · penetration (lbf, in), G oven-dry",
			source:  source.NDSScrews,
		},
	},
	catalogue.Recessed: {
		prints: boltFootprints,
		near:   func(f *catalogue.Fastener) measure.Length { return f.RecessDistance + f.RecessDiameter/2 },
		far: func(f *catalogue.Fastener, _ measure.Length) measure.Length {
			return f.RecessDistance + f.RecessDiameter/2
		},
		pull: &pullForm{
			words:  "bolts",
			end:    func(s *catalogue.Settings) measure.Length { return s.BoltEnd },
			cut:    "channels",
			widths: func(g *PullGroup) []measure.Length { return g.Channels },
			holds: func(*Seam) string {
				return "Draw bolts hold by their bearing, by the maker's working load. "
			},
			formula: "count · working load",
			source:  source.Demo,
		},
	},
}

// formOf is the row of a part's form.
func formOf(f *catalogue.Fastener) *form { return &forms[f.Kind.Form()] }

// Cuts are what lets each part slide, in a word, and how wide along the seam that is at its position.
func (g *PullGroup) Cuts() (what string, wide []measure.Length) {
	p := forms[g.Kind.Form()].pull
	return p.cut, p.widths(g)
}

// Formula is how what they may hold is reckoned, and where that comes from.
func (g *PullGroup) Formula() (string, source.ID) {
	p := forms[g.Kind.Form()].pull
	return p.formula, p.source
}

// Words is what a customer calls the pull parts, of both kinds where two stand in one seam.
func (p *Pull) Words() string {
	near, far := forms[p.Groups[0].Kind.Form()].pull.words, forms[p.Groups[len(p.Groups)-1].Kind.Form()].pull.words
	if near == far {
		return near
	}
	return near + " and " + far
}

// Reach is how far the plan's parts reach into the pieces, along the underside.
func (p *Plan) Reach() measure.Length {
	most := p.Alignment.Part.Length / 2
	for i := range p.Pull.Groups {
		part := &p.Pull.Groups[i].Part
		most = max(most, formOf(part).near(part))
	}
	return most
}

// MostReach is how far a part reaches into a piece of that thickness at most, with all that is cut for it; zero for
// what can stand in no seam.
func MostReach(f *catalogue.Fastener, thickness measure.Length) measure.Length {
	switch f.Kind.Role() {
	case catalogue.Aligns, catalogue.Pulls:
		return formOf(f).far(f, thickness)
	case catalogue.Refused, catalogue.Fixes, catalogue.Carries:
	}
	return 0
}
