package estimates

import (
	"fmt"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// Encode returns an estimate as the JSON that POST /v1/estimates answers, byte for byte.
func Encode(est *estimate.Estimate) []byte {
	return wire.Encode(est.Units, func(w *wire.Writer) { write(w, est) })
}

// write writes an estimate.
func write(w *wire.Writer, e *estimate.Estimate) { walkEstimate(wire.WriteFields(w), e) }

// Read reads an answer to POST /v1/estimates back into an estimate, so that drawings and documents can be made of
// what was kept, with its figures as they were rounded then. Fields that an older answer does not have are zero.
// Assumptions and workings are not read: nothing is drawn of them.
func Read(answer string) (*estimate.Estimate, error) {
	f, e := wire.ReadFields(answer), new(estimate.Estimate)
	walkEstimate(f, e)
	if err := f.End(); err != nil {
		return nil, fmt.Errorf("read a kept estimate: %w", err)
	}
	return e, nil
}

func walkEstimate(f *wire.Fields, e *estimate.Estimate) {
	f.Open()
	walkUnits(f, &e.Units)
	wire.Word(f, "reference", &e.Reference)
	wire.Word(f, "currency", &e.Currency)
	walkVersion(f, &e.Revision, &e.PricedAsOf)
	walkAssumptions(f, e.Assumptions)
	walkMade(f, &e.Made)
	walkBuilds(f, &e.Builds)
	walkPoints(f, "outline", &e.Outline)
	f.Area("area", &e.Area)
	f.Mass("weight", &e.Mass)
	wire.List(f, "runs", &e.Runs, walkRun)
	walkConditioning(f, &e.Conditioning)
	wire.List(f, "corners", &e.Corners, walkCorner)
	wire.List(f, "cutouts", &e.Cutouts, walkCutout)
	walkFixing(f, &e.Fixing)
	walkBase(f, &e.Base)
	walkCarrying(f, &e.Carrying)
	walkLifting(f, &e.Lifting)
	wire.List(f, "lumber", &e.Lumber, walkLumber)
	wire.List(f, "bill_of_materials", &e.Bill, walkBillLine)
	walkLabour(f, &e.Labour)
	walkPrice(f, &e.Price)
	walkClosing(f, &e.Warnings, &e.Cautions, &e.Sources, e.Workings)
	f.Close()
}

func writeComparison(w *wire.Writer, c *estimate.Comparison) {
	f := wire.WriteFields(w)
	f.Open()
	walkUnits(f, &c.Units)
	wire.Word(f, "currency", &c.Currency)
	walkVersion(f, &c.Revision, &c.PricedAsOf)
	walkAssumptions(f, c.Assumptions)
	walkConditioning(f, &c.Conditioning)
	wire.List(f, "corners", &c.Corners, walkCorner)
	walkClosing(f, &c.Warnings, &c.Cautions, &c.Sources, c.Workings)
	f.Close()
}

func writeMovementAnswer(w *wire.Writer, m *estimate.MovementAnswer, alongGrain bool) {
	w.Units = m.Units
	f := wire.WriteFields(w)
	f.Open()
	walkUnits(f, &m.Units)
	f.OpenAt("catalogue")
	wire.Int(f, "revision", &m.Revision)
	f.Close()
	wire.Word(f, "species", &m.Species)
	wire.Word(f, "sawn", &m.Sawn)
	walkMoistures(f, &m.Moisture)
	walkMovement(f, &m.Movement, alongGrain)
	walkAssumptions(f, m.Assumptions)
	wire.List(f, "warnings", &m.Warnings, walkWarning)
	wire.List(f, "sources", &m.Sources, walkSource)
	walkWorkings(f, m.Workings)
	f.Close()
}

// walkUnits comes first: what lengths are depends on it.
func walkUnits(f *wire.Fields, units *measure.System) {
	word := units.String()
	if wire.Word(f, "units", &word); word == measure.Millimetres.String() {
		*units = measure.Millimetres
	}
	f.Units = *units
}

func walkVersion(f *wire.Fields, revision *int64, asOf *catalogue.Date) {
	if !f.OpenAt("catalogue") {
		return
	}
	wire.Int(f, "revision", revision)
	wire.Word(f, "priced_as_of", asOf)
	f.Close()
}

// walkClosing walks what stands at the end of an estimate and of a comparison.
func walkClosing(f *wire.Fields, warnings *[]estimate.Warning, cautions *[]string, sources *[]source.Source,
	workings []estimate.Working) {
	wire.List(f, "warnings", warnings, walkWarning)
	f.Texts("cautions", cautions)
	wire.List(f, "sources", sources, walkSource)
	walkWorkings(f, workings)
}

// walkAssumptions writes the defaults that were taken; they are not read.
func walkAssumptions(f *wire.Fields, all []estimate.Assumption) {
	w := f.Writer()
	if w == nil {
		return
	}
	wire.All(w, "assumptions", all, func(w *wire.Writer, a *estimate.Assumption) {
		w.Open()
		w.Text("pointer", a.Pointer)
		w.Value("value", a.Value)
		w.Text("why", a.Why)
		w.Close()
	})
}

// walkWorkings writes the workings, which are left out when nobody asked for them; they are not read.
func walkWorkings(f *wire.Fields, all []estimate.Working) {
	w := f.Writer()
	if w == nil || all == nil {
		return
	}
	wire.All(w, "workings", all, func(w *wire.Writer, x *estimate.Working) {
		w.Open()
		w.Text("name", x.Name)
		w.Text("formula", x.Formula)
		wire.All(w, "inputs", x.Inputs, func(w *wire.Writer, in *estimate.Input) {
			w.Open()
			w.Text("name", in.Name)
			w.Number("value", in.Value, 6)
			w.Text("unit", in.Unit)
			w.Close()
		})
		w.Number("value", x.Value, 6)
		w.Text("unit", x.Unit)
		w.Text("source", string(x.Source))
		w.Close()
	})
}

func walkMade(f *wire.Fields, m *estimate.Made) {
	if !f.OpenAt("top") {
		return
	}
	f.Made("thickness", &m.Thickness)
	wire.Word(f, "construction", &m.Construction)
	walkLayers(f, &m.Layers, &m.Layer)
	if m.Layers > 0 {
		if f.Reads() && !f.Has("build") {
			m.Build = estimate.Laminated // kept from before it was told
		} else {
			wire.Word(f, "build", &m.Build)
		}
	}
	wire.Word(f, "hand", &m.Hand)
	if f.OpenAt("edge") {
		wire.Word(f, "profile", &m.Profile)
		f.Made("size", &m.ProfileSize)
		f.Bool("square_ends", &m.SquareEnds)
		f.MadeOrNull("moulding", &m.Moulding)
		f.Close()
	}
	if f.OpenAt("finish") {
		wire.Word(f, "system", &m.Finish)
		wire.WordOrNull(f, "name", &m.FinishName)
		wire.Int(f, "coats", &m.Coats)
		wire.NumberOrNull(f, "cure_days", &m.CureDays, 2)
		wire.Word(f, "faces", &m.Faces)
		f.Close()
	}
	f.Close()
}

// walkEndJoints walks how staves are joined end to end; left out where they are whole.
func walkEndJoints(f *wire.Fields, b *estimate.Blank) {
	j := &b.Joined
	if !f.OpenIf("end_joints", j.Count > 0) {
		return
	}
	n := min(j.Count, len(j.Parts))
	parts, places := j.Parts[:n], j.Places[:max(0, n-1)]
	if f.Reads() {
		parts, places = nil, nil
	}
	f.MadeAll("parts", &parts)
	f.MadeAll("places", &places)
	if f.Reads() {
		j.Count = copy(j.Parts[:], parts)
		copy(j.Places[:], places)
	}
	count := b.EndJoints()
	wire.Int(f, "count", &count)
	f.Close()
}

// walkBuilds walks how else the top could come to its thickness; left out where there is stock for it.
func walkBuilds(f *wire.Fields, builds *[]estimate.BuildWay) {
	if f.Reads() && !f.Has("builds") || !f.Reads() && len(*builds) == 0 {
		return
	}
	wire.List(f, "builds", builds, func(f *wire.Fields, b *estimate.BuildWay) {
		f.Open()
		wire.Word(f, "build", &b.Build)
		f.Amount("cost_difference", &b.Cost)
		f.Amount("total_difference", &b.Total)
		wire.WordOrNull(f, "fault", &b.Fault)
		wire.Word(f, "text", &b.Text)
		f.Close()
	})
}

// walkUnder walks the strips and blocks under a slab with a built-up edge; left out where there are none.
func walkUnder(f *wire.Fields, u *takeoff.Under) {
	if !f.OpenIf("build_up", u.Count > 0) {
		return
	}
	f.Made("front_strip", &u.Front)
	f.Made("wall_strip", &u.Wall)
	wire.Int(f, "strip_staves", &u.Strips)
	wire.Int(f, "blocks_across", &u.Across)
	blocks := u.Fields()
	if f.Reads() {
		blocks = nil
	}
	f.MadeAll("block_lengths", &blocks)
	if f.Reads() {
		u.Count = copy(u.Blocks[:], blocks)
	}
	f.Close()
}

// walkHollows walks where nothing lies under a slab with a built-up edge; left out where there is no such place.
func walkHollows(f *wire.Fields, hollows *[]estimate.Hollow) {
	if f.Reads() && !f.Has("hollows") || !f.Reads() && len(*hollows) == 0 {
		return
	}
	wire.List(f, "hollows", hollows, func(f *wire.Fields, h *estimate.Hollow) {
		f.Open()
		f.Made("from", &h.From)
		f.Made("to", &h.To)
		f.Made("from_front", &h.Front)
		f.Made("to_back", &h.Back)
		f.Close()
	})
}

// walkLayers walks the layers that are glued on each other; left out where there is one.
func walkLayers(f *wire.Fields, layers *int, thickness *measure.Length) {
	if f.Reads() && !f.Has("layers") || !f.Reads() && *layers == 0 {
		return
	}
	wire.Int(f, "layers", layers)
	f.Made("layer_thickness", thickness)
}

// walkPartOf walks which piece of a run one is; left out where the run is whole.
func walkPartOf(f *wire.Fields, part **estimate.PartOf) {
	if !f.OpenIf("part_of", *part != nil) {
		return
	}
	if f.Reads() {
		*part = new(estimate.PartOf)
	}
	p := *part
	wire.Word(f, "run", &p.Run)
	wire.Int(f, "number", &p.Number)
	wire.Int(f, "count", &p.Count)
	f.Made("from", &p.From)
	f.Made("to", &p.To)
	f.Close()
}

// walkInLine walks where a seam lies in its run; left out at a corner.
func walkInLine(f *wire.Fields, seam **estimate.InLineSeam) {
	if !f.OpenIf("straight_seam", *seam != nil) {
		return
	}
	if f.Reads() {
		*seam = new(estimate.InLineSeam)
	}
	s := *seam
	wire.Word(f, "run", &s.Run)
	f.Made("at", &s.At)
	wire.Word(f, "reason", &s.Reason)
	f.Close()
}

func walkRun(f *wire.Fields, r *estimate.RunResult) {
	f.Open()
	wire.Word(f, "name", &r.Name)
	walkPartOf(f, &r.PartOf)
	wire.Word(f, "species", &r.Species)
	wire.Word(f, "wood", &r.Wood)
	wire.Word(f, "sawn", &r.Sawn)
	f.Made("depth", &r.Depth)
	walkMoistures(f, &r.Moisture)
	walkMovement(f, &r.Movement, true)
	walkSeasonal(f, &r.Seasonal)
	walkWallJoint(f, &r.WallJoint)
	walkWalls(f, &r.Walls)
	walkPiece(f, &r.Piece)
	wire.Int(f, "people", &r.People)
	walkBlank(f, &r.Blank)
	walkGlueUp(f, &r.GlueUp)
	f.Close()
}

// walkWallJoint walks what covers the gap at a wall; nothing of answers that were kept from before it was told.
func walkWallJoint(f *wire.Fields, j *estimate.WallJoint) {
	if !f.OpenIf("wall_joint", j.Cover != "") {
		return
	}
	f.Sized("width", &j.Width, measure.Least)
	wire.Word(f, "cover", &j.Cover)
	f.SizedOrNull("strip", &j.Strip, measure.Least)
	f.Length("closes", &j.Closes)
	f.Length("opens", &j.Opens)
	wire.Word(f, "text", &j.Text)
	f.Close()
}

func walkMoistures(f *wire.Fields, m *estimate.Moistures) {
	if !f.OpenAt("moisture") {
		return
	}
	wire.Number(f, "making", &m.Making, 2)
	wire.Number(f, "dry", &m.Dry, 2)
	wire.Number(f, "humid", &m.Humid, 2)
	f.Close()
}

func walkMovement(f *wire.Fields, m *estimate.Movement, alongGrain bool) {
	if !f.OpenAt("movement") {
		return
	}
	wire.NumberOrNull(f, "coefficient", &m.Coefficient, 6)
	wire.Word(f, "method", &m.Method)
	if w := f.Writer(); w != nil {
		w.List("methods")
		for _, by := range m.Methods() {
			w.Separate()
			w.Quote(string(by))
		}
		w.End()
	}
	wire.Number(f, "dry_strain", &m.DryStrain, 6)
	wire.Number(f, "humid_strain", &m.HumidStrain, 6)
	f.Length("to_dry", &m.ToDry)
	f.Length("to_humid", &m.ToHumid)
	f.Span("range", &m.Range, m.ToDry, m.ToHumid)
	if w := f.Writer(); w != nil && !alongGrain {
		w.Null("along_grain_range")
	} else {
		f.Length("along_grain_range", &m.AlongGrain)
	}
	walkHold(f, "fixed_line", &m.FixedLine)
	f.Length("swing", &m.Swing)
	f.Sized("wall_gap", &m.WallGap, measure.Least)
	f.Close()
}

// walkConditioning walks whether the wood is ready; answers kept from before it was told say nothing of it.
func walkConditioning(f *wire.Fields, at **estimate.Conditioning) {
	if !f.OpenIf("conditioning", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Conditioning)
	}
	c := *at
	f.Bool("ready", &c.Ready)
	f.Bool("promise", &c.Promise)
	wire.Number(f, "target", &c.Target, 2)
	wire.Number(f, "off", &c.Off, 2)
	f.Made("thickness", &c.Thickness)
	if f.OpenAt("rest_days") {
		wire.Int(f, "least", &c.Days.Least)
		wire.Int(f, "likely", &c.Days.Likely)
		wire.Int(f, "most", &c.Days.Most)
		f.Close()
	}
	wire.NumberOrNull(f, "humidity", &c.Humidity, 0)
	wire.Word(f, "text", &c.Text)
	walkStock(f, &c.Stock)
	f.Close()
}

// walkSeasonal walks a year of a slab, which only orders that ask for it have.
func walkSeasonal(f *wire.Fields, at **estimate.Seasonal) {
	if !f.OpenIf("seasonal", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Seasonal)
	}
	s := *at
	wire.Number(f, "lag_days", &s.Lag, 2)
	wire.Number(f, "damping", &s.Damping, 4)
	if f.OpenAt("equilibrium_movement") {
		f.Length("least", &s.Bound.Least)
		f.Length("greatest", &s.Bound.Greatest)
		f.Close()
	}
	f.Length("cup", &s.Cup)
	wire.List(f, "months", &s.Months, func(f *wire.Fields, m *estimate.SlabMonth) {
		f.Open()
		wire.Number(f, "equilibrium", &m.Equilibrium, 2)
		wire.Number(f, "mean", &m.Mean, 2)
		f.Length("change", &m.Change)
		f.Length("cup", &m.Cup)
		f.LengthOrNull("ripple", &m.Ripple)
		f.Close()
	})
	f.Close()
}

// walkStock walks what becomes of the stock, which only orders that tell of it have.
func walkStock(f *wire.Fields, at **estimate.Stock) {
	if !f.OpenIf("stock", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Stock)
	}
	s := *at
	wire.Word(f, "verdict", &s.Verdict)
	wire.Number(f, "least", &s.Least, 2)
	wire.Number(f, "greatest", &s.Greatest, 2)
	wire.Number(f, "equilibrium", &s.Equilibrium, 2)
	wire.Number(f, "days", &s.Days.Likely, 1)
	wire.Number(f, "days_low", &s.Days.Low, 1)
	wire.Number(f, "days_high", &s.Days.High, 1)
	f.Close()
}

func walkPiece(f *wire.Fields, p *estimate.Piece) {
	if !f.OpenAt("piece") {
		return
	}
	f.Made("long_edge", &p.LongEdge)
	f.Made("short_edge", &p.ShortEdge)
	f.Made("wall_edge", &p.WallEdge)
	f.Made("front_edge", &p.FrontEdge)
	f.Angle("start_angle", &p.StartAngle)
	f.Angle("end_angle", &p.EndAngle)
	f.Area("area", &p.Area)
	walkPoints(f, "outline", &p.Outline)
	if p.Scribed != nil || f.Reads() && f.Has("scribed") {
		walkPoints(f, "scribed", &p.Scribed)
	}
	walkHollows(f, &p.Hollows)
	f.Mass("weight", &p.Mass)
	f.Close()
}

func walkBlank(f *wire.Fields, b *estimate.Blank) {
	if !f.OpenAt("blank") {
		return
	}
	f.Made("length", &b.Length)
	f.Made("width", &b.Width)
	f.Made("thickness", &b.Thickness)
	f.MadeOrNull("rough_thickness", &b.Rough)
	walkLayers(f, &b.Layers, &b.Layer)
	walkUnder(f, &b.Under)
	wire.Int(f, "staves", &b.Staves)
	f.MadeOrNull("stave_width", &b.StaveRip)
	f.MadeOrNull("stave_finished", &b.StaveWidth)
	f.MadeOrNull("stave_length", &b.StaveLength)
	wire.Number(f, "board_feet", &b.BoardFeet, 2)
	walkEndJoints(f, b)
	f.Close()
}

func walkCutout(f *wire.Fields, c *estimate.CutoutResult) {
	f.Open()
	wire.Word(f, "run", &c.Run)
	wire.Word(f, "kind", &c.Kind)
	walkPoints(f, "outline", &c.Outline)
	f.Area("area", &c.Area)
	f.Texts("open_at", &c.OpenAt)
	walkMaking(f, &c.Making)
	f.Close()
}

// walkMaking walks how a cut-out is made, which is left out where the order does not say.
func walkMaking(f *wire.Fields, at **estimate.CutoutMaking) {
	if !f.OpenIf("making", *at != nil) {
		return
	}
	if f.Reads() {
		*at = new(estimate.CutoutMaking)
	}
	m := *at
	wire.Word(f, "shape", &m.Shape)
	f.Made("length", &m.Length)
	f.Made("depth", &m.Depth)
	f.MadeOrNull("corner_radius", &m.CornerRadius)
	f.Angle("turned", &m.Turned)
	wire.Word(f, "mount", &m.Mount)
	f.Pair("centre", &m.Centre.X, &m.Centre.Y)
	f.Made("edge_length", &m.Edge)
	f.MadeOrNull("shown_edge_length", &m.ShownEdge)
	wire.List(f, "rails", &m.Rails, walkRail)
	f.Close()
}

func walkRail(f *wire.Fields, r *estimate.Rail) {
	f.Open()
	wire.Word(f, "side", &r.Side)
	f.Sized("width", &r.Width, measure.Most)
	f.Made("length", &r.Length)
	f.Pressure("own_stress", &r.Own)
	f.Pressure("lifted_stress", &r.Lifted)
	f.PressureOrNull("allowed_stress", &r.Strength)
	holds := r.Holds()
	f.Bool("holds", &holds)
	f.Close()
}

func walkFixing(f *wire.Fields, x *estimate.FixingResult) {
	if !f.OpenAt("fixing") {
		return
	}
	wire.Word(f, "kind", &x.Kind)
	wire.WordOrNull(f, "item", &x.Item)
	wire.Int(f, "count", &x.Count)
	wire.List(f, "runs", &x.Runs, walkRunFixing)
	wire.Word(f, "note", &x.Note)
	f.Close()
}

func walkRunFixing(f *wire.Fields, r *estimate.RunFixing) {
	f.Open()
	wire.Word(f, "run", &r.Run)
	walkHold(f, "fixed_line", &r.FixedLine)
	wire.Int(f, "along", &r.Along)
	wire.List(f, "rows", &r.Rows, func(f *wire.Fields, row *estimate.FixingRow) {
		f.Open()
		f.Made("from_front", &row.FromFront)
		f.SizedOrNull("slot_length", &row.SlotLength, measure.Least)
		f.Close()
	})
	wire.List(f, "places", &r.Places, func(f *wire.Fields, p *estimate.FixingPlace) {
		f.Open()
		f.Length("along", &p.Along)
		f.Length("from_front", &p.FromFront)
		f.Length("slot_across", &p.SlotAcross)
		f.LengthOrNull("slot_along", &p.SlotAlong)
		f.Close()
	})
	f.Close()
}

func walkWarning(f *wire.Fields, x *estimate.Warning) {
	f.Open()
	wire.Word(f, "code", &x.Code)
	wire.Word(f, "severity", &x.Severity)
	wire.Word(f, "pointer", &x.Pointer)
	wire.Word(f, "text", &x.Text)
	f.Close()
}

func walkSource(f *wire.Fields, s *source.Source) {
	f.Open()
	wire.Word(f, "id", &s.ID)
	wire.Word(f, "title", &s.Title)
	f.Close()
}
