package estimates

import (
	"strconv"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
)

// Encode returns an estimate as the JSON that POST /v1/estimates answers, byte for byte.
func Encode(est *estimate.Estimate) []byte {
	return wire.Encode(est.Units, func(w *wire.Writer) { write(w, est) })
}

// write writes an estimate.
func write(w *wire.Writer, e *estimate.Estimate) {
	w.Open()
	w.Text("units", e.Units.String())
	w.Text("reference", e.Reference)
	w.Text("currency", e.Currency)
	writeVersion(w, e.Revision, e.PricedAsOf)
	wire.All(w, "assumptions", e.Assumptions, writeAssumption)
	writeTopMade(w, &e.Made)
	WriteOutline(w, "outline", e.Outline)
	w.Area("area", e.Area)
	w.Mass("weight", e.Mass)
	wire.All(w, "runs", e.Runs, writeRun)
	writeConditioning(w, e.Conditioning)
	wire.All(w, "corners", e.Corners, writeCorner)
	wire.All(w, "cutouts", e.Cutouts, writeCutout)
	writeFixing(w, &e.Fixing)
	wire.All(w, "lumber", e.Lumber, writeLumber)
	wire.All(w, "bill_of_materials", e.Bill, writeBillLine)
	writeLabour(w, &e.Labour)
	writePrice(w, &e.Price)
	writeClosing(w, e.Warnings, e.Cautions, e.Sources, e.Workings)
	w.Close()
}

func writeComparison(w *wire.Writer, c *estimate.Comparison) {
	w.Open()
	w.Text("units", c.Units.String())
	w.Text("currency", c.Currency)
	writeVersion(w, c.Revision, c.PricedAsOf)
	wire.All(w, "assumptions", c.Assumptions, writeAssumption)
	writeConditioning(w, c.Conditioning)
	wire.All(w, "corners", c.Corners, writeCorner)
	writeClosing(w, c.Warnings, c.Cautions, c.Sources, c.Workings)
	w.Close()
}

func writeMovementAnswer(w *wire.Writer, m *estimate.MovementAnswer, alongGrain bool) {
	w.Open()
	w.Text("units", m.Units.String())
	w.OpenAt("catalogue")
	w.Int("revision", m.Revision)
	w.Close()
	w.Text("species", m.Species)
	w.Text("sawn", string(m.Sawn))
	writeMoistures(w, m.Moisture)
	writeMovement(w, &m.Movement, alongGrain)
	wire.All(w, "assumptions", m.Assumptions, writeAssumption)
	wire.All(w, "warnings", m.Warnings, writeWarning)
	wire.All(w, "sources", m.Sources, writeSource)
	writeWorkings(w, m.Workings)
	w.Close()
}

func writeVersion(w *wire.Writer, revision int64, asOf catalogue.Date) {
	w.OpenAt("catalogue")
	w.Int("revision", revision)
	w.Date("priced_as_of", asOf)
	w.Close()
}

// writeClosing writes what stands at the end of an estimate and of a comparison.
func writeClosing(w *wire.Writer, warnings []estimate.Warning, cautions []string, sources []source.Source, workings []estimate.Working) {
	wire.All(w, "warnings", warnings, writeWarning)
	w.Texts("cautions", cautions)
	wire.All(w, "sources", sources, writeSource)
	writeWorkings(w, workings)
}

func writeAssumption(w *wire.Writer, a *estimate.Assumption) {
	w.Open()
	w.Text("pointer", a.Pointer)
	w.Value("value", a.Value)
	w.Text("why", a.Why)
	w.Close()
}

// WriteOutline writes a closed line, in its order.
func WriteOutline(w *wire.Writer, name string, points []plan.Point) {
	w.List(name)
	WritePoints(w, points)
	w.End()
}

// WritePoints writes the points of one, as items of a list.
func WritePoints(w *wire.Writer, points []plan.Point) {
	for _, p := range points {
		w.Item()
		w.Decimal(p.X.In(w.Units), w.LengthPlaces())
		w.Separate()
		w.Decimal(p.Y.In(w.Units), w.LengthPlaces())
		w.End()
	}
}

func writeTopMade(w *wire.Writer, m *estimate.Made) {
	w.OpenAt("top")
	w.Made("thickness", m.Thickness)
	w.Text("construction", string(m.Construction))
	w.Text("hand", string(m.Hand))
	w.OpenAt("edge")
	w.Text("profile", string(m.Profile))
	w.Made("size", m.ProfileSize)
	w.Bool("square_ends", m.SquareEnds)
	w.MadeOrNull("moulding", m.Moulding)
	w.Close()
	w.OpenAt("finish")
	w.Text("system", m.Finish)
	w.TextOrNull("name", m.FinishName)
	w.Int("coats", int64(m.Coats))
	w.NumberOrNull("cure_days", m.CureDays, 2)
	w.Text("faces", string(m.Faces))
	w.Close()
	w.Close()
}

func writeRun(w *wire.Writer, r *estimate.RunResult) {
	w.Open()
	w.Text("name", r.Name)
	w.Text("species", r.Species)
	w.Text("wood", r.Wood)
	w.Text("sawn", string(r.Sawn))
	w.Made("depth", r.Depth)
	writeMoistures(w, r.Moisture)
	writeMovement(w, &r.Movement, true)
	writeWallJoint(w, &r.WallJoint)
	writePiece(w, &r.Piece)
	w.Int("people", int64(r.People))
	writeBlank(w, &r.Blank)
	w.Close()
}

// writeWallJoint writes what covers the gap at a wall; nothing of answers that were kept from before it was told.
func writeWallJoint(w *wire.Writer, j *estimate.WallJoint) {
	if j.Cover == "" {
		return
	}
	w.OpenAt("wall_joint")
	w.Sized("width", j.Width, measure.Least)
	w.Text("cover", string(j.Cover))
	w.SizedOrNull("strip", j.Strip, measure.Least)
	w.Length("closes", j.Closes)
	w.Length("opens", j.Opens)
	w.Text("text", j.Text)
	w.Close()
}

func writeMoistures(w *wire.Writer, m estimate.Moistures) {
	w.OpenAt("moisture")
	w.Number("making", float64(m.Making), 2)
	w.Number("dry", float64(m.Dry), 2)
	w.Number("humid", float64(m.Humid), 2)
	w.Close()
}

func writeMovement(w *wire.Writer, m *estimate.Movement, alongGrain bool) {
	w.OpenAt("movement")
	if m.Coefficient != 0 {
		w.Number("coefficient", m.Coefficient, 6)
	} else {
		w.Null("coefficient")
	}
	w.Text("method", string(m.Method))
	w.List("methods")
	for _, by := range m.Methods() {
		w.Separate()
		w.Quote(string(by))
	}
	w.End()
	w.Number("dry_strain", m.DryStrain, 6)
	w.Number("humid_strain", m.HumidStrain, 6)
	w.Length("to_dry", m.ToDry)
	w.Length("to_humid", m.ToHumid)
	w.Length("range", m.Range)
	if alongGrain {
		w.Length("along_grain_range", m.AlongGrain)
	} else {
		w.Null("along_grain_range")
	}
	writeHold(w, "fixed_line", m.FixedLine)
	w.Length("swing", m.Swing)
	w.Sized("wall_gap", m.WallGap, measure.Least)
	w.Close()
}

// writeConditioning writes whether the wood is ready; answers kept from before it was told say nothing of it.
func writeConditioning(w *wire.Writer, c *estimate.Conditioning) {
	if c == nil {
		return
	}
	w.OpenAt("conditioning")
	w.Bool("ready", c.Ready)
	w.Bool("promise", c.Promise)
	w.Number("target", float64(c.Target), 2)
	w.Number("off", float64(c.Off), 2)
	w.Made("thickness", c.Thickness)
	w.OpenAt("rest_days")
	w.Int("least", int64(c.Days.Least))
	w.Int("likely", int64(c.Days.Likely))
	w.Int("most", int64(c.Days.Most))
	w.Close()
	w.NumberOrNull("humidity", float64(c.Humidity), 0)
	w.Text("text", c.Text)
	w.Close()
}

// WriteDays writes the working days; null when none are promised.
func WriteDays(w *wire.Writer, days int, promised bool) {
	if !promised {
		w.Null("working_days")
		return
	}
	w.Int("working_days", int64(days))
}

func writePiece(w *wire.Writer, p *estimate.Piece) {
	w.OpenAt("piece")
	w.Made("long_edge", p.LongEdge)
	w.Made("short_edge", p.ShortEdge)
	w.Made("wall_edge", p.WallEdge)
	w.Made("front_edge", p.FrontEdge)
	w.Angle("start_angle", p.StartAngle)
	w.Angle("end_angle", p.EndAngle)
	w.Area("area", p.Area)
	WriteOutline(w, "outline", p.Outline)
	w.Mass("weight", p.Mass)
	w.Close()
}

func writeBlank(w *wire.Writer, b *estimate.Blank) {
	w.OpenAt("blank")
	w.Made("length", b.Length)
	w.Made("width", b.Width)
	w.Made("thickness", b.Thickness)
	w.MadeOrNull("rough_thickness", b.Rough)
	w.Int("staves", int64(b.Staves))
	w.MadeOrNull("stave_width", b.StaveRip)
	w.MadeOrNull("stave_finished", b.StaveWidth)
	w.MadeOrNull("stave_length", b.StaveLength)
	w.Number("board_feet", b.BoardFeet, 2)
	w.Close()
}

func writeCutout(w *wire.Writer, c *estimate.CutoutResult) {
	w.Open()
	w.Text("run", c.Run)
	w.Text("kind", c.Kind)
	WriteOutline(w, "outline", c.Outline)
	w.Area("area", c.Area)
	w.Texts("open_at", c.OpenAt)
	w.Close()
}

func writeFixing(w *wire.Writer, f *estimate.FixingResult) {
	w.OpenAt("fixing")
	w.Text("kind", string(f.Kind))
	w.TextOrNull("item", f.Item)
	w.Int("count", int64(f.Count))
	wire.All(w, "runs", f.Runs, writeRunFixing)
	w.Text("note", f.Note)
	w.Close()
}

func writeRunFixing(w *wire.Writer, r *estimate.RunFixing) {
	w.Open()
	w.Text("run", r.Run)
	writeHold(w, "fixed_line", r.FixedLine)
	w.Int("along", int64(r.Along))
	wire.All(w, "rows", r.Rows, func(w *wire.Writer, row *estimate.FixingRow) {
		w.Open()
		w.Made("from_front", row.FromFront)
		w.SizedOrNull("slot_length", row.SlotLength, measure.Least)
		w.Close()
	})
	wire.All(w, "places", r.Places, func(w *wire.Writer, p *estimate.FixingPlace) {
		w.Open()
		w.Length("along", p.Along)
		w.Length("from_front", p.FromFront)
		w.Length("slot_across", p.SlotAcross)
		w.LengthOrNull("slot_along", p.SlotAlong)
		w.Close()
	})
	w.Close()
}

func writeLabour(w *wire.Writer, l *labour.Plan) {
	w.OpenAt("labour")
	wire.All(w, "steps", l.Steps, writeStep)
	w.Number("hours", l.Hours, 2)
	w.Number("critical_path_hours", l.CriticalPathHours, 2)
	WriteDays(w, l.WorkingDays, l.NoPromise == "")
	w.TextOrNull("no_promise", l.NoPromise)
	w.NumberOrNull("cured_day", float64(l.CuredDay), 0)
	w.Amount("cost", l.Cost)
	w.Amount("cost_deviation", money.RoundAmount(l.CostDeviation))
	w.Close()
}

func writeStep(w *wire.Writer, s *labour.Step) {
	w.Open()
	w.Int("number", int64(s.Number))
	w.Text("code", s.Code)
	w.Text("name", s.Name)
	w.Text("when", string(s.When))
	w.Text("role", s.Role)
	w.Int("crew", int64(s.Crew))
	w.OpenAt("minutes")
	w.Number("low", s.Minutes.Low, 1)
	w.Number("likely", s.Minutes.Likely, 1)
	w.Number("high", s.Minutes.High, 1)
	w.Number("expected", s.Minutes.Expected, 1)
	w.Close()
	w.Number("wait_hours", s.WaitHours, 2)
	w.List("after")
	for _, n := range s.After {
		w.Separate()
		w.Buf = strconv.AppendInt(w.Buf, int64(n), 10)
	}
	w.End()
	w.Bool("critical", s.Critical)
	w.Int("day", int64(s.Day))
	w.Hourly("rate", s.Rate)
	w.Amount("amount", s.Amount)
	w.TextOrNull("gives", string(s.Gives))
	w.Text("note", s.Note)
	w.Close()
}

func writePrice(w *wire.Writer, p *price.Price) {
	w.OpenAt("price")
	w.Amount("materials", p.Materials)
	w.Amount("hardware", p.Hardware)
	w.Amount("consumables", p.Consumables)
	w.Amount("labour", p.Labour)
	w.Amount("overhead", p.Overhead)
	w.Amount("contingency", p.Contingency)
	w.Amount("cost", p.Cost)
	w.Amount("margin", p.Margin)
	w.Amount("net", p.Net)
	w.Amount("tax", p.Tax)
	w.Amount("total", p.Total)
	w.Amount("deposit", p.Deposit)
	w.OpenAt("range")
	w.Amount("p50", p.Range.P50)
	w.Amount("p80", p.Range.P80)
	w.Amount("p90", p.Range.P90)
	w.Close()
	w.Text("basis", string(p.Basis))
	w.Rate("rate", p.Rate)
	w.Rate("tax_rate", p.TaxRate)
	w.Close()
}

func writeWarning(w *wire.Writer, x *estimate.Warning) {
	w.Open()
	w.Text("code", x.Code)
	w.Text("severity", string(x.Severity))
	w.Text("pointer", x.Pointer)
	w.Text("text", x.Text)
	w.Close()
}

func writeSource(w *wire.Writer, s *source.Source) {
	w.Open()
	w.Text("id", string(s.ID))
	w.Text("title", s.Title)
	w.Close()
}

// writeWorkings are left out when nobody asked for them.
func writeWorkings(w *wire.Writer, all []estimate.Working) {
	if all == nil {
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
