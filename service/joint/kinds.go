package joint

import (
	"seamwright/service/catalogue"
	"seamwright/service/plan"
)

// manner is what the rules know of one kind of joint beside its traits. Common practice.
type manner struct {
	kind plan.JointKind

	// cutting is what its cut counts beside its length and its angle (cut.angle), and how much harder it is for a
	// beginner.
	cutting func(s *catalogue.Settings, angle float64) (points, difficulty float64)
	cutText func(f *Facts, w *sentence, c cut) // how it is cut

	diagonal, straight wish // the customer wants the lines to turn the corner on the diagonal; one slab to run through
}

// wish is how well a joint meets one.
type wish struct {
	share float64 // of the setting's points
	text  string  // ends the sentence
}

// manners has a row for every kind of joint.
var manners = [...]manner{
	{
		kind: plan.Miter,
		// two faces that must meet
		cutting: func(*catalogue.Settings, float64) (points, difficulty float64) { return 0, 0.5 },
		cutText: func(f *Facts, w *sentence, c cut) {
			w.text("Two full-width cuts, up to ").number(c.worst,
				1).text("° off square, must meet along ").length(f.Seam).text(".")
		},
		diagonal: wish{1, "a miter does."},
		straight: wish{-1, "a miter cuts both."},
	},
	{
		kind: plan.Butt,
		cutting: func(s *catalogue.Settings, angle float64) (points, difficulty float64) {
			return float64(s.PointsCutSquare) * (1 - min(1, 2*angle)), 0
		},
		cutText: func(f *Facts, w *sentence, c cut) {
			if c.worst == 0 {
				w.text("One square cut of ").length(f.Seam)
			} else {
				w.text("One cut of ").length(f.Seam).text(", ").number(c.worst, 1).text("° off square")
			}
			w.text("; the other edge is the slab's own front.")
		},
		diagonal: wish{-1, "a butt does not."},
		straight: wish{1, " does."},
	},
	{
		kind: plan.MasonsMiter,
		cutting: func(s *catalogue.Settings, _ float64) (points, difficulty float64) {
			return float64(s.PointsCutMasons), 2
		},
		cutText: func(f *Facts, w *sentence, _ cut) {
			w.text("The cut turns from a short miter into a butt and must fit in both directions along ").length(f.Seam).text(".")
		},
		diagonal: wish{0.3, "a mason's miter does so at the front edge only."},
		straight: wish{0.5, " does, but for the short miter at the front."},
	},
	{
		kind:    plan.Straight,
		cutting: func(*catalogue.Settings, float64) (points, difficulty float64) { return 0, 0 },
		cutText: func(f *Facts, w *sentence, _ cut) {
			w.text("Two square cuts of ").length(f.Seam).text(", end grain against end grain.")
		},
		diagonal: wish{0, "a straight joint turns no corner."},
		straight: wish{0, " does, in pieces."},
	},
}

// mannerOf is the row of a kind of joint.
func mannerOf(kind plan.JointKind) *manner {
	for i := range manners {
		if m := &manners[i]; m.kind == kind {
			return m
		}
	}
	return nil
}
