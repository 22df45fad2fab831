package hardware_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// anySeam draws seams of all joints, 100 to 2500 mm, still and moving, with profiles and blocked stretches.
func anySeam(t *rapid.T, longest float64) hardware.Seam {
	seam := hardware.Seam{
		Joint:     rapid.SampledFrom([]plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter}).Draw(t, "joint"),
		Length:    measure.Length(rapid.Float64Range(100, longest).Draw(t, "length")),
		Thickness: measure.Length(rapid.SampledFrom([]float64{19, 28, 38.1, 44, 50.8, 70}).Draw(t, "thickness")),
		FrontKeep: measure.Length(rapid.SampledFrom([]float64{0, 6.35, 12.7, 25}).Draw(t, "front keep")),
		SlipRate:  rapid.SampledFrom([]float64{0, 0.0005, 0.002, 0.005, 0.009, 0.02}).Draw(t, "slip rate"),
		Units:     rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units"),

		GravityOvenDry: 0.55, Gravity12: 0.52, Legs: [2]hardware.Leg{{Run: "A", Mass: 40, Arm: 700},
			{Run: "B", Mass: 20, Arm: 900}},
	}
	for range rapid.IntRange(0, 3).Draw(t, "blocked") {
		from := measure.Length(rapid.Float64Range(0, longest).Draw(t, "from"))
		seam.Blocked = append(seam.Blocked, hardware.Interval{From: from,
			To: from + measure.Length(rapid.Float64Range(0, 150).Draw(t, "over"))})
	}
	if rapid.Bool().Draw(t, "edges") {
		for i := range seam.Sides {
			angle := func(name string) float64 {
				return rapid.SampledFrom([]float64{25, 45, 60, 90, 120, 150, 180}).Draw(t, name)
			}
			seam.Sides[i] = pieceEdges(seam.Length,
				measure.Length(rapid.SampledFrom([]float64{60, 110, 300, 700}).Draw(t, "depth")), angle("front"), angle("back"))
		}
	}
	return seam
}

// pieceEdges are the edges of a piece that leaves the ends of its seam at these angles (inside the wood, degrees) and
// ends at a depth.
func pieceEdges(length, depth measure.Length, front, back float64) hardware.Side {
	const clear, far = 12.7, 400
	out := func(angle float64) (along, in measure.Length) {
		s, c := math.Sincos(angle * math.Pi / 180)
		return measure.Length(far * c), measure.Length(far * s)
	}
	fa, fi := out(front)
	ba, bi := out(back)
	return hardware.Side{Edges: []hardware.Edge{
		{From: hardware.Place{Along: fa, In: fi}, To: hardware.Place{}, Clear: clear},
		{From: hardware.Place{Along: length}, To: hardware.Place{Along: length - ba, In: bi}, Clear: clear},
		{From: hardware.Place{Along: length + far, In: depth}, To: hardware.Place{Along: -far, In: depth}, Clear: clear},
	}}
}

func anyWish(t *rapid.T) hardware.Wish {
	return hardware.Wish{
		HoldAt: rapid.SampledFrom([]hardware.Hold{"", "", hardware.HoldFront, hardware.HoldCentre,
			hardware.HoldBack}).Draw(t, "hold"),
		Pull: rapid.SampledFrom([]catalogue.FastenerKind{"", "", catalogue.PocketScrew, catalogue.DrawBolt}).Draw(t,
			"pull"),
		Alignment: rapid.SampledFrom([]catalogue.FastenerKind{"", "", catalogue.Biscuit, catalogue.LooseTenon}).Draw(t,
			"alignment"),
	}
}

func TestEveryPlanKeepsEveryRule(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	rapid.Check(t, func(t *rapid.T) {
		seam, wish := anySeam(t, 2500), anyWish(t)
		p, err := hardware.Choose(seam, wish, cat)
		if err != nil {
			t.Fatal(err)
		}
		if p.Feasible {
			if err := p.Check(seam, cat); err != nil {
				t.Fatal(err)
			}
		} else if p.Reason == "" || p.Short == hardware.ShortNothing {
			t.Fatal("an infeasible plan must say why")
		}
		if wish.HoldAt != "" && p.HoldAt != wish.HoldAt {
			t.Fatalf("held at %s, not %s", p.HoldAt, wish.HoldAt)
		}
		again, err := hardware.Choose(seam, wish, cat)
		if err != nil || fmt.Sprint(p) != fmt.Sprint(again) {
			t.Fatal("the same seam gave two plans")
		}
	})
}

// anyShop draws a shop in which a part may be missing and up to two settings are not the usual ones.
func anyShop(t *rapid.T, usual *catalogue.Snapshot) *catalogue.Snapshot {
	cat := *usual
	cat.Fasteners = slices.Clone(usual.Fasteners)
	for i := range cat.Fasteners {
		cat.Fasteners[i].MayMixWithBolt = rapid.Bool().Draw(t, "mixes")
	}
	if missing := rapid.IntRange(0, 2*len(cat.Fasteners)).Draw(t, "missing"); missing < len(cat.Fasteners) {
		cat.Fasteners = slices.Delete(cat.Fasteners, missing, missing+1)
	}
	s := &cat.Settings
	lengths := []*measure.Length{&s.PartClear, &s.PocketEnd, &s.PocketSpacing, &s.BoltEnd, &s.BoltSpacing, &s.AlignmentEnd,
		&s.AlignmentSpacing, &s.SlotAllowance, &s.BiscuitCutter, &s.BearingLeast}
	for range rapid.IntRange(0, 2).Draw(t, "changes") {
		*rapid.SampledFrom(lengths).Draw(t,
			"setting") *= measure.Length(rapid.SampledFrom([]float64{0, 0.5, 0.9, 1.1, 1.5, 2}).Draw(t, "factor"))
	}
	return cat.Index()
}

// nextSeam draws a seam that has something in common with the one before, often nearly all.
func nextSeam(t *rapid.T, before hardware.Seam) hardware.Seam {
	seam := before
	other := anySeam(t, 2500)
	switch rapid.IntRange(0, 8).Draw(t, "changed") {
	case 0:
		seam.SlipRate = other.SlipRate
	case 1:
		seam.FrontKeep, seam.Joint = other.FrontKeep, other.Joint
	case 2:
		seam.Blocked = other.Blocked
	case 3:
		seam.Sides[0] = other.Sides[0]
	case 4:
		seam.Sides[1] = other.Sides[1]
	case 5:
		seam.Length = other.Length
	case 6:
		seam.Thickness, seam.Legs[0].Mass, seam.Units = other.Thickness, 55, other.Units
	case 7:
		seam = other
	}
	return seam
}

// A chooser that has chosen before, for seams that are alike and others, comes to the plan of the plain way, and so
// does one that is reset. It leaves the plans given before as they are, and reads nothing of a seam that its caller
// changes afterwards.
func TestPlansAreThoseOfThePlainWay(t *testing.T) {
	t.Parallel()
	usual := fullShop(t)
	chooser := hardware.NewChooser(usual)
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		cat := anyShop(t, usual)
		chooser.Reset(cat)
		seam := anySeam(t, 2500)
		var given, copies []hardware.Plan
		for range 20 {
			seam = nextSeam(t, seam)
			wish := hardware.Wish{HoldAt: rapid.SampledFrom([]hardware.Hold{"", hardware.HoldFront}).Draw(t, "usual hold")}
			if rapid.IntRange(0, 2).Draw(t, "any wish") == 0 {
				wish = anyWish(t)
			}
			handed := seam
			var lent [2][]hardware.Edge
			for i := range lent {
				lent[i] = slices.Clone(seam.Sides[i].Edges)
				handed.Sides[i].Edges = lent[i]
			}
			p, err := chooser.Choose(handed, wish)
			addNote(chooser, &p, &seam)
			want, plainErr := hardware.ChoosePlainly(seam, wish, cat)
			if err != nil || plainErr != nil || !reflect.DeepEqual(want, p) {
				t.Fatalf("%v, %v\nplain %+v\nfast  %+v\nof %+v, %+v", err, plainErr, want, p, seam, wish)
			}
			other := seam
			other.Legs[0].Mass, other.Legs[1].Run = 3*seam.Legs[0].Mass, "C"
			for _, legs := range []hardware.Seam{other, seam} {
				again := chooser.ForLegs(p, legs)
				addNote(chooser, &again, &legs)
				if want, err := hardware.ChoosePlainly(legs, wish, cat); err != nil || !reflect.DeepEqual(want, again) {
					t.Fatalf("%v\nplain %+v\nother legs %+v", err, want, again)
				}
			}
			if !reflect.DeepEqual(want, p) {
				t.Fatal("other legs change the plan")
			}
			for i := range lent {
				clear(lent[i])
			}
			given, copies = append(given, p), append(copies, want)
			seen[kindOf(&p)]++
		}
		if !reflect.DeepEqual(copies, given) {
			t.Fatal("a plan changed after it was given")
		}
	})
	for _, kind := range []string{"screws", "bolts", "none: movement", "none: thickness", "none: room"} {
		require.Positive(t, seen[kind], kind)
	}
}

// The same for seams of usual tops, from short to long.
func TestPlansAlongUsualSeamsAreThoseOfThePlainWay(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	cat.Fasteners[slices.IndexFunc(cat.Fasteners,
		func(f catalogue.Fastener) bool { return f.Code == screw8.Code })].MayMixWithBolt = true
	chooser := hardware.NewChooser(cat)
	seen := map[string]int{}
	for length := measure.Length(150); length < 1500; length += 19 {
		for _, rate := range []float64{0, 0.003, 0.006, 0.009, 0.013, 0.02} {
			for _, angle := range []float64{60, 90, 120} {
				for _, joint := range []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter} {
					seam := studioButt()
					seam.Length, seam.SlipRate, seam.Joint = length, rate, joint
					seam.Sides = [2]hardware.Side{pieceEdges(length, 600, angle, angle), pieceEdges(length, 600, 90, angle)}
					for _, wish := range []hardware.Wish{{HoldAt: hardware.HoldFront}, {HoldAt: hardware.HoldCentre}, {},
						{HoldAt: hardware.HoldFront, Pull: catalogue.DrawBolt}} {
						p, err := chooser.Choose(seam, wish)
						addNote(chooser, &p, &seam)
						want, plainErr := hardware.ChoosePlainly(seam, wish, cat)
						if err != nil || plainErr != nil || !reflect.DeepEqual(want, p) {
							t.Fatalf("%v, %v\nplain %+v\nfast  %+v\nof %+v, %+v", err, plainErr, want, p, seam, wish)
						}
						seen[kindOf(&p)]++
					}
				}
			}
		}
	}
	for _, kind := range []string{"screws", "bolts", "bolts, long", "both", "none: movement", "none: room"} {
		require.Positive(t, seen[kind], kind)
	}
}

// addNote completes a plan as the function Choose does.
func addNote(c *hardware.Chooser, p *hardware.Plan, seam *hardware.Seam) {
	if p.Feasible {
		p.Pull.Note = c.Note(&p.Pull, seam)
	}
}

// kindOf is what a plan pulls with, or why it cannot.
func kindOf(p *hardware.Plan) string {
	if !p.Feasible {
		return "none: " + string(p.Short)
	}
	kind := "screws"
	if last := p.Pull.Groups[len(p.Pull.Groups)-1]; len(p.Pull.Groups) == 2 {
		kind = "both"
	} else if last.Kind == catalogue.DrawBolt {
		kind = "bolts"
	}
	if len(p.Pull.Groups[len(p.Pull.Groups)-1].Recesses) > 0 {
		kind += ", long"
	}
	return kind
}

// twin says by trying everything whether one kind of biscuit and one kind of draw bolt have room on a seam, with places
// half an inch apart only, and how many bolts that takes at least. It reads the rules on its own.
type twin struct {
	seam        hardware.Seam
	set         catalogue.Settings
	align, pull catalogue.Fastener
	long        bool // the recesses are elongated
	seen        map[[3]int]int
}

const twinPitch = measure.Inch / 2

func (w *twin) slip(at measure.Length) measure.Length { // held at the front
	return measure.Length(w.seam.SlipRate) * at
}

// half is half of the room of a part at a place; kind 0 is a bolt, 1 a biscuit.
func (w *twin) half(kind int, at measure.Length) measure.Length {
	if kind == 1 {
		const cutter, deep = 100, 12 // a #20 biscuit's slot
		return max(w.align.Width+2*w.slip(at)+w.set.SlotAllowance, 2*measure.Length(math.Sqrt(deep*(cutter-deep)))) / 2
	}
	if w.long {
		return w.pull.RecessDiameter/2 + w.slip(at)
	}
	return max(w.pull.RecessDiameter, w.pull.BearingDiameter, w.pull.BoltDiameter+2*w.slip(at)+w.set.HoleAllowance) / 2
}

func (w *twin) stands(kind int, at measure.Length) bool {
	from, to := at-w.half(kind, at), at+w.half(kind, at)
	if from < max(w.seam.FrontKeep, w.set.PartClear) || to > w.seam.Length-w.set.PartClear {
		return false
	}
	for _, b := range w.seam.Blocked {
		if from < b.To && to > b.From {
			return false
		}
	}
	if kind == 1 {
		return true
	}
	if !w.long && w.slip(at) > w.pull.RecessDiameter-w.pull.BearingDiameter { // half of it in each piece
		return false
	}
	channel := w.pull.BoltDiameter + max(2*w.slip(at)+w.set.HoleAllowance, w.set.HoleLeast)
	return at >= w.set.BoltEnd && w.seam.Length-at >= w.set.BoltEnd &&
		(w.pull.BearingDiameter-channel)/2 >= w.set.BearingLeast
}

// bolts returns the fewest further bolts after the last bolt and the last biscuit at these places (-1: none yet), with
// still so many bolts needed; a great number when it cannot be done.
func (w *twin) bolts(last [2]int, need int) int {
	const never = 1000
	key := [3]int{last[0], last[1], max(need, 0)}
	if n, ok := w.seen[key]; ok {
		return n
	}
	limit := [2]measure.Length{max(w.set.BoltEnd, w.set.BoltSpacing/2), w.set.AlignmentEnd}
	spacing := [2]measure.Length{w.set.BoltSpacing, w.set.AlignmentSpacing}
	place := func(i int) measure.Length { return measure.Length(i) * twinPitch }
	best := never
	if need <= 0 && last[0] >= 0 && last[1] >= 0 && w.seam.Length-place(last[0]) <= limit[0] &&
		w.seam.Length-place(last[1]) <= limit[1] {
		best = 0
	}
	for kind := range 2 {
		for i := max(last[0], last[1]) + 1; place(i) <= w.seam.Length; i++ {
			at := place(i)
			if last[kind] < 0 && at > limit[kind] || last[kind] >= 0 && at-place(last[kind]) > spacing[kind] {
				break
			}
			if !w.stands(kind, at) || !w.clear(last, kind, at) {
				continue
			}
			next := last
			next[kind] = i
			best = min(best, 1-kind+w.bolts(next, need-(1-kind)))
		}
	}
	w.seen[key] = best
	return best
}

func (w *twin) clear(last [2]int, kind int, at measure.Length) bool {
	for other, i := range last {
		if i >= 0 {
			q := measure.Length(i) * twinPitch
			if at-w.half(kind, at)-q-w.half(other, q) < w.set.PartClear {
				return false
			}
		}
	}
	return true
}

func TestWhatTryingEverythingFindsIsFound(t *testing.T) {
	t.Parallel()
	cat := shop(t, biscuit20, bolt100)
	feasible, lastWord := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		seam := anySeam(t, 1000)
		seam.Joint, seam.Thickness, seam.Sides = plan.Miter, 38.1, [2]hardware.Side{}
		w := twin{seam: seam, set: cat.Settings, align: biscuit20, pull: bolt100, seen: map[[3]int]int{}}
		need := 2
		if seam.Length >= cat.Settings.BoltThreeFrom {
			need = 3
		}
		fewest := w.bolts([2]int{-1, -1}, need)
		if fewest >= 1000 {
			w.long, w.seen = true, map[[3]int]int{}
			fewest = w.bolts([2]int{-1, -1}, need)
		}
		p, err := hardware.Choose(seam, hardware.Wish{HoldAt: hardware.HoldFront}, cat)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case fewest >= 1000 && p.Feasible:
			lastWord++ // the grid of the search is finer
		case fewest >= 1000:
		case !p.Feasible:
			t.Fatalf("%d bolts and biscuits have room on the coarse grid, but: %s", fewest, p.Reason)
		case w.long && len(p.Pull.Groups[0].Recesses) == 0:
			lastWord++
		case p.Pull.Groups[0].Count > fewest:
			t.Fatalf("%d bolts, but %d do", p.Pull.Groups[0].Count, fewest)
		default:
			feasible++
		}
	})
	require.Positive(t, feasible)
	t.Logf("feasible for both %d times, only on the finer grid %d times", feasible, lastWord)
}

// Blocked stretches that leave uneven openings: no evenly spaced bolts fit, and the search must find the places.
func TestUnevenOpeningsAreSearched(t *testing.T) {
	t.Parallel()
	cat := shop(t, biscuit20, bolt100)
	seam := studioMiter()
	seam.Blocked = []hardware.Interval{{From: 330, To: 400}, {From: 560, To: 600}}
	p := choose(t, seam, hardware.Wish{}, cat)
	require.True(t, p.Feasible)
	at := p.Pull.Groups[0].Positions
	gap := float64(at[1] - at[0])
	uneven := 0.0
	for i := 1; i < len(at); i++ {
		uneven = max(uneven, math.Abs(float64(at[i]-at[i-1])-gap))
	}
	require.Greater(t, uneven, 1.0)
}

// What was chosen for tops before changes neither the plans of the next nor what their search takes, whether its effort is
// enough or not.
func TestChoicesRememberedTakeWhatTheyTook(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	chooser := hardware.NewChooser(cat)
	recalled, scarce := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		pool := []hardware.Seam{anySeam(t, 2500), studioMiter(), studioButt()}
		for range 3 {
			pool = append(pool, nextSeam(t, pool[len(pool)-1]))
		}
		long := anySeam(t, 2500)
		long.Length, long.SlipRate = 12_000, 0.004 // a search that takes much
		pool = append(pool, long)
		for range 4 { // tops
			alone := hardware.NewChooser(cat)
			alone.Begin()
			chooser.Begin()
			for range rapid.IntRange(1, 6).Draw(t, "seams") {
				seam, wish := rapid.SampledFrom(pool).Draw(t, "seam"), hardware.Wish{}
				if rapid.Bool().Draw(t, "any wish") {
					wish = anyWish(t)
				}
				for range rapid.SampledFrom([]int{1, 1, 1, 40}).Draw(t, "times") {
					seam.SlipRate += 1e-7
					before := hardware.Remembers(chooser)
					got, err := chooser.Choose(seam, wish)
					want, plainErr := alone.Choose(seam, wish)
					require.Equal(t, plainErr, err)
					require.Equal(t, want, got)
					require.Equal(t, alone.Spent(), chooser.Spent())
					if err == nil && before < hardware.MostRemembered && hardware.Remembers(chooser) == before {
						recalled++
					}
				}
			}
			if alone.Spent() > hardware.MostEffort {
				scarce++
			}
		}
	})
	require.Positive(t, recalled)
	require.Positive(t, scarce)
}
