package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// form is all that must be known of parts that sit in the wood in one way, for the search and at the bench.
type form struct {
	// of what it cuts out of both pieces
	prints func(to []Footprint, f *catalogue.Fastener, long bool, seam *Seam, s *catalogue.Settings) []Footprint
	alike  bool // it cuts the same out of either piece
	// how far it reaches into a piece, along the underside
	near func(f *catalogue.Fastener) measure.Length
	// the same with all that is cut for it, at most
	far func(f *catalogue.Fastener, thickness measure.Length) measure.Length
	cut cutForm // what the bench makes of it

	pull *pullForm // nil: it pulls nothing
}

// pullForm is what must be known of pull parts besides.
type pullForm struct {
	// Which are tried, and when.
	further bool                                                                              // as bolts are: when those that stand near the held point fail, and beside them further out
	room    func(f *catalogue.Fastener, thickness measure.Length, s *catalogue.Settings) bool // for it, in the thickness
	order   func(a, b *catalogue.Fastener) int                                                // negative: a before b
	// whether two differ in length alone, so that only the better one is tried; nil: each is tried
	instead func(f, have *catalogue.Fastener) (alike, better bool)

	// Where they stand.
	end, spacing func(s *catalogue.Settings) measure.Length
	many         func(seam measure.Length, s *catalogue.Settings) int // at least so many of them hold so much seam
	half         func(f *catalogue.Fastener, s *catalogue.Settings) measure.Length
	channel      func(f *catalogue.Fastener, s *catalogue.Settings) measure.Length // half of what grows with the slip
	shank, head  func(f *catalogue.Fastener) measure.Length                        // what slides, and what bears around it
	travel       func(f *catalogue.Fastener) measure.Length                        // either way in what is not elongated; nil: any

	// What they hold, and how they are called.
	// fills in what is cut, and long for recesses that are elongated, else nil; returns what they hold in a short test
	group   func(c *Chooser, g *PullGroup, held measure.Length, holes, long []measure.Length) measure.Force
	widths  func(g *PullGroup) []measure.Length // how wide what must let it slide is at each position
	cut     string                              // what that is
	bears   string                              // what bears on the wood around it
	words   string                              // what a customer calls them
	holds   func(*Seam) string                  // says what they hold by
	formula string                              // of what they may hold
	source  source.ID
	grip    Grip
}

// Grip is what the rules for and against a joint know of pull parts of one form. Common practice.
type Grip struct {
	Points    func(*catalogue.Settings) int // for parts that hold twice what is asked of them
	Bites     bool                          // it holds by a thread in the wood, which end grain does not give
	Text      func(through string) string   // how it holds, with the name of the run that goes through
	Apart     int                           // sign of the points for a joint that must come apart
	ApartText string                        // ends the sentence about it
}

// forms has a row for each form that stands in a seam.
var forms = [...]form{
	catalogue.LetIn: {
		prints: slotFootprints,
		alike:  true,
		near:   func(f *catalogue.Fastener) measure.Length { return f.Length / 2 },
		far:    func(f *catalogue.Fastener, _ measure.Length) measure.Length { return f.Length },
		cut: cutForm{
			shapes: func(m *Mark, _ Piece) []Shape {
				return []Shape{{Feature: SlotCut, Hidden: true, Points: oblong(m.At, m.Size/2, 0, m.Part.Length/2)}}
			},
			told: [2]string{"slot %s", "slot %s, two rows"},
			size: measure.Least,
		},
	},
	catalogue.Pocketed: pocketed,
	catalogue.Recessed: recessed,
}

// formOf is the row of a part's form.
func formOf(f *catalogue.Fastener) *form { return &forms[f.Kind.Form()] }

// GripOf is how pull parts of a form hold; nil for what pulls nothing.
func GripOf(f catalogue.FastenerForm) *Grip {
	if p := forms[f].pull; p != nil {
		return &p.grip
	}
	return nil
}

// Cuts are what lets each part slide, in a word, and how wide along the seam that is at its position.
func (g *PullGroup) Cuts() (what string, wide []measure.Length) {
	p := forms[g.Kind.Form()].pull
	return p.cut + "s", p.widths(g)
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
