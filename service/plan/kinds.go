package plan

// JointKind is how two slabs meet at a corner.
type JointKind string

// The joints.
const (
	Butt        JointKind = "butt"
	Miter       JointKind = "miter"
	MasonsMiter JointKind = "masons_miter"
	Straight    JointKind = "straight"
)

// JointTraits is all that sets one kind of joint apart from another.
type JointTraits struct {
	Kind    JointKind
	Name    string // how the trade calls it, in a sentence
	Through bool   // one run goes through, the other stops at it; else both are cut alike
	Mitred  bool   // the front edges meet on the diagonal, and with them a profile
	Turns   bool   // the cut turns within the wood: a tool must stop in it, and the seam is held at its front
	InLine  bool   // its two pieces are of one run, end to end: there is no corner, and nothing to choose

	Customer string // says to a customer why a corner is made so

	meet func(s *memory, a, b *frame, c *cut) error // cuts the two runs' ends and gives the seam its path
}

// jointKinds has a row for every kind, in the order in which answers list them.
var jointKinds = [...]JointTraits{
	{Kind: Miter, Name: "miter", Mitred: true, meet: (*memory).miter,
		Customer: "Both sides are cut on the diagonal, so that the front edge and the lines of the wood turn the corner."},
	{Kind: Butt, Name: "butt", Through: true, meet: (*memory).butt,
		Customer: "One side runs straight through and the other meets it squarely: simple and sound."},
	{Kind: MasonsMiter, Name: "mason's miter", Through: true, Mitred: true, Turns: true, meet: (*memory).masonsMiter,
		Customer: "One side runs straight through, and only the front edge meets on the diagonal, so that its shape runs round the corner."},
	{Kind: Straight, Name: "straight joint", Mitred: true, InLine: true, meet: (*memory).miter,
		Customer: "A long side is made of pieces that meet end to end in a straight seam."},
}

// JointKinds returns a row for every kind of joint, in the order in which answers list them. It must not be changed.
func JointKinds() []JointTraits { return jointKinds[:] }

// Traits returns the kind's row; of what is no kind an empty one.
func (k JointKind) Traits() *JointTraits {
	for i := range jointKinds {
		if t := &jointKinds[i]; t.Kind == k {
			return t
		}
	}
	return &noTraits
}

var noTraits JointTraits

// Name is how the trade calls the joint, in a sentence.
func (k JointKind) Name() string { return k.Traits().Name }

// RunsThrough reports whether one run goes through and the other stops at it.
func (k JointKind) RunsThrough() bool { return k.Traits().Through }

// Mitred reports whether the front edges meet on the diagonal.
func (k JointKind) Mitred() bool { return k.Traits().Mitred }

// Turns reports whether the cut turns within the wood.
func (k JointKind) Turns() bool { return k.Traits().Turns }

// InLine reports whether the two pieces are of one run, end to end.
func (k JointKind) InLine() bool { return k.Traits().InLine }

// Ways are all the ways to make a corner, in the order in which answers list them: each kind, and where one run goes
// through, with either.
func Ways() []Joint {
	var ways []Joint
	for i := range jointKinds {
		switch k := &jointKinds[i]; {
		case k.InLine: // where there is no corner
		case k.Through:
			ways = append(ways, Joint{k.Kind, First}, Joint{k.Kind, Second})
		default:
			ways = append(ways, Joint{Kind: k.Kind})
		}
	}
	return ways
}
