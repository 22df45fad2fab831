package estimates

import (
	"fmt"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/source"
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
