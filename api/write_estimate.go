package api

import (
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
)

// EncodeEstimate returns an estimate as the JSON that POST /v1/estimates answers, byte for byte.
func EncodeEstimate(est *estimate.Estimate) ([]byte, error) {
	w := newWriter(est.Units)
	defer w.free()
	w.estimate(est)
	return append([]byte(nil), w.buf...), nil
}

func (w *writer) estimate(e *estimate.Estimate) {
	w.open()
	w.text("units", e.Units.String())
	w.text("reference", e.Reference)
	w.text("currency", e.Currency)
	w.version(e.Revision, e.PricedAsOf)
	writeAll(w, "assumptions", e.Assumptions, (*writer).assumption)
	w.topMade(&e.Made)
	w.outline("outline", e.Outline)
	w.area("area", e.Area)
	w.mass("weight", e.Mass)
	writeAll(w, "runs", e.Runs, (*writer).run)
	w.conditioning(e.Conditioning)
	writeAll(w, "corners", e.Corners, (*writer).corner)
	writeAll(w, "cutouts", e.Cutouts, (*writer).cutout)
	w.fixing(&e.Fixing)
	writeAll(w, "lumber", e.Lumber, (*writer).lumber)
	writeAll(w, "bill_of_materials", e.Bill, (*writer).billLine)
	w.labour(&e.Labour)
	w.price(&e.Price)
	w.closing(e.Warnings, e.Cautions, e.Sources, e.Workings)
	w.close()
}

func (w *writer) comparison(c *estimate.Comparison) {
	w.open()
	w.text("units", c.Units.String())
	w.text("currency", c.Currency)
	w.version(c.Revision, c.PricedAsOf)
	writeAll(w, "assumptions", c.Assumptions, (*writer).assumption)
	w.conditioning(c.Conditioning)
	writeAll(w, "corners", c.Corners, (*writer).corner)
	w.closing(c.Warnings, c.Cautions, c.Sources, c.Workings)
	w.close()
}

func (w *writer) movementAnswer(m *estimate.MovementAnswer, alongGrain bool) {
	w.open()
	w.text("units", m.Units.String())
	w.openAt("catalogue")
	w.int("revision", m.Revision)
	w.close()
	w.text("species", m.Species)
	w.text("sawn", string(m.Sawn))
	w.moistures(m.Moisture)
	w.movement(&m.Movement, alongGrain)
	writeAll(w, "assumptions", m.Assumptions, (*writer).assumption)
	writeAll(w, "warnings", m.Warnings, (*writer).warning)
	writeAll(w, "sources", m.Sources, (*writer).source)
	w.workings(m.Workings)
	w.close()
}

func (w *writer) version(revision int64, asOf catalogue.Date) {
	w.openAt("catalogue")
	w.int("revision", revision)
	w.date("priced_as_of", asOf)
	w.close()
}

// closing writes what stands at the end of an estimate and of a comparison.
func (w *writer) closing(warnings []estimate.Warning, cautions []string, sources []source.Source, workings []estimate.Working) {
	writeAll(w, "warnings", warnings, (*writer).warning)
	w.texts("cautions", cautions)
	writeAll(w, "sources", sources, (*writer).source)
	w.workings(workings)
}

func (w *writer) assumption(a *estimate.Assumption) {
	w.open()
	w.text("pointer", a.Pointer)
	w.value("value", a.Value)
	w.text("why", a.Why)
	w.close()
}

func (w *writer) outline(name string, points []plan.Point) {
	w.list(name)
	w.points(points)
	w.end()
}

func (w *writer) points(points []plan.Point) {
	for _, p := range points {
		w.item()
		w.decimal(p.X.In(w.units), w.lengthPlaces())
		w.separate()
		w.decimal(p.Y.In(w.units), w.lengthPlaces())
		w.end()
	}
}

func (w *writer) topMade(m *estimate.Made) {
	w.openAt("top")
	w.made("thickness", m.Thickness)
	w.text("construction", string(m.Construction))
	w.text("hand", string(m.Hand))
	w.openAt("edge")
	w.text("profile", string(m.Profile))
	w.made("size", m.ProfileSize)
	w.bool("square_ends", m.SquareEnds)
	w.madeOrNull("moulding", m.Moulding)
	w.close()
	w.openAt("finish")
	w.text("system", m.Finish)
	w.textOrNull("name", m.FinishName)
	w.int("coats", int64(m.Coats))
	w.numberOrNull("cure_days", m.CureDays, 2)
	w.text("faces", string(m.Faces))
	w.close()
	w.close()
}

func (w *writer) run(r *estimate.RunResult) {
	w.open()
	w.text("name", r.Name)
	w.text("species", r.Species)
	w.text("wood", r.Wood)
	w.text("sawn", string(r.Sawn))
	w.made("depth", r.Depth)
	w.moistures(r.Moisture)
	w.movement(&r.Movement, true)
	w.wallJoint(&r.WallJoint)
	w.piece(&r.Piece)
	w.int("people", int64(r.People))
	w.blank(&r.Blank)
	w.close()
}

// wallJoint writes what covers the gap at a wall; nothing of answers that were kept from before it was told.
func (w *writer) wallJoint(j *estimate.WallJoint) {
	if j.Cover == "" {
		return
	}
	w.openAt("wall_joint")
	w.sized("width", j.Width, measure.Least)
	w.text("cover", string(j.Cover))
	w.sizedOrNull("strip", j.Strip, measure.Least)
	w.length("closes", j.Closes)
	w.length("opens", j.Opens)
	w.text("text", j.Text)
	w.close()
}

func (w *writer) moistures(m estimate.Moistures) {
	w.openAt("moisture")
	w.number("making", float64(m.Making), 2)
	w.number("dry", float64(m.Dry), 2)
	w.number("humid", float64(m.Humid), 2)
	w.close()
}

func (w *writer) movement(m *estimate.Movement, alongGrain bool) {
	w.openAt("movement")
	if m.Coefficient != 0 {
		w.number("coefficient", m.Coefficient, 6)
	} else {
		w.null("coefficient")
	}
	w.text("method", string(m.Method))
	w.list("methods")
	for _, by := range m.Methods() {
		w.separate()
		w.quote(string(by))
	}
	w.end()
	w.number("dry_strain", m.DryStrain, 6)
	w.number("humid_strain", m.HumidStrain, 6)
	w.length("to_dry", m.ToDry)
	w.length("to_humid", m.ToHumid)
	w.length("range", m.Range)
	if alongGrain {
		w.length("along_grain_range", m.AlongGrain)
	} else {
		w.null("along_grain_range")
	}
	w.hold("fixed_line", m.FixedLine)
	w.length("swing", m.Swing)
	w.sized("wall_gap", m.WallGap, measure.Least)
	w.close()
}

// conditioning writes whether the wood is ready; answers kept from before it was told say nothing of it.
func (w *writer) conditioning(c *estimate.Conditioning) {
	if c == nil {
		return
	}
	w.openAt("conditioning")
	w.bool("ready", c.Ready)
	w.bool("promise", c.Promise)
	w.number("target", float64(c.Target), 2)
	w.number("off", float64(c.Off), 2)
	w.made("thickness", c.Thickness)
	w.openAt("rest_days")
	w.int("least", int64(c.Days.Least))
	w.int("likely", int64(c.Days.Likely))
	w.int("most", int64(c.Days.Most))
	w.close()
	w.numberOrNull("humidity", float64(c.Humidity), 0)
	w.text("text", c.Text)
	w.close()
}

// days writes the working days; null when none are promised.
func (w *writer) days(days int, promised bool) {
	if !promised {
		w.null("working_days")
		return
	}
	w.int("working_days", int64(days))
}

func (w *writer) piece(p *estimate.Piece) {
	w.openAt("piece")
	w.made("long_edge", p.LongEdge)
	w.made("short_edge", p.ShortEdge)
	w.made("wall_edge", p.WallEdge)
	w.made("front_edge", p.FrontEdge)
	w.angle("start_angle", p.StartAngle)
	w.angle("end_angle", p.EndAngle)
	w.area("area", p.Area)
	w.outline("outline", p.Outline)
	w.mass("weight", p.Mass)
	w.close()
}

func (w *writer) blank(b *estimate.Blank) {
	w.openAt("blank")
	w.made("length", b.Length)
	w.made("width", b.Width)
	w.made("thickness", b.Thickness)
	w.madeOrNull("rough_thickness", b.Rough)
	w.int("staves", int64(b.Staves))
	w.madeOrNull("stave_width", b.StaveRip)
	w.madeOrNull("stave_finished", b.StaveWidth)
	w.madeOrNull("stave_length", b.StaveLength)
	w.number("board_feet", b.BoardFeet, 2)
	w.close()
}

func (w *writer) cutout(c *estimate.CutoutResult) {
	w.open()
	w.text("run", c.Run)
	w.text("kind", c.Kind)
	w.outline("outline", c.Outline)
	w.area("area", c.Area)
	w.texts("open_at", c.OpenAt)
	w.close()
}

func (w *writer) fixing(f *estimate.FixingResult) {
	w.openAt("fixing")
	w.text("kind", string(f.Kind))
	w.textOrNull("item", f.Item)
	w.int("count", int64(f.Count))
	writeAll(w, "runs", f.Runs, (*writer).runFixing)
	w.text("note", f.Note)
	w.close()
}

func (w *writer) runFixing(r *estimate.RunFixing) {
	w.open()
	w.text("run", r.Run)
	w.hold("fixed_line", r.FixedLine)
	w.int("along", int64(r.Along))
	writeAll(w, "rows", r.Rows, func(w *writer, row *estimate.FixingRow) {
		w.open()
		w.made("from_front", row.FromFront)
		w.sizedOrNull("slot_length", row.SlotLength, measure.Least)
		w.close()
	})
	writeAll(w, "places", r.Places, func(w *writer, p *estimate.FixingPlace) {
		w.open()
		w.length("along", p.Along)
		w.length("from_front", p.FromFront)
		w.length("slot_across", p.SlotAcross)
		w.lengthOrNull("slot_along", p.SlotAlong)
		w.close()
	})
	w.close()
}

func (w *writer) labour(l *labour.Plan) {
	w.openAt("labour")
	writeAll(w, "steps", l.Steps, (*writer).step)
	w.number("hours", l.Hours, 2)
	w.number("critical_path_hours", l.CriticalPathHours, 2)
	w.days(l.WorkingDays, l.NoPromise == "")
	w.textOrNull("no_promise", l.NoPromise)
	w.numberOrNull("cured_day", float64(l.CuredDay), 0)
	w.amount("cost", l.Cost)
	w.amount("cost_deviation", money.RoundAmount(l.CostDeviation))
	w.close()
}

func (w *writer) step(s *labour.Step) {
	w.open()
	w.int("number", int64(s.Number))
	w.text("code", s.Code)
	w.text("name", s.Name)
	w.text("when", string(s.When))
	w.text("role", s.Role)
	w.int("crew", int64(s.Crew))
	w.openAt("minutes")
	w.number("low", s.Minutes.Low, 1)
	w.number("likely", s.Minutes.Likely, 1)
	w.number("high", s.Minutes.High, 1)
	w.number("expected", s.Minutes.Expected, 1)
	w.close()
	w.number("wait_hours", s.WaitHours, 2)
	w.list("after")
	for _, n := range s.After {
		w.separate()
		w.buf = strconv.AppendInt(w.buf, int64(n), 10)
	}
	w.end()
	w.bool("critical", s.Critical)
	w.int("day", int64(s.Day))
	w.hourly("rate", s.Rate)
	w.amount("amount", s.Amount)
	w.textOrNull("gives", string(s.Gives))
	w.text("note", s.Note)
	w.close()
}

func (w *writer) price(p *price.Price) {
	w.openAt("price")
	w.amount("materials", p.Materials)
	w.amount("hardware", p.Hardware)
	w.amount("consumables", p.Consumables)
	w.amount("labour", p.Labour)
	w.amount("overhead", p.Overhead)
	w.amount("contingency", p.Contingency)
	w.amount("cost", p.Cost)
	w.amount("margin", p.Margin)
	w.amount("net", p.Net)
	w.amount("tax", p.Tax)
	w.amount("total", p.Total)
	w.amount("deposit", p.Deposit)
	w.openAt("range")
	w.amount("p50", p.Range.P50)
	w.amount("p80", p.Range.P80)
	w.amount("p90", p.Range.P90)
	w.close()
	w.text("basis", string(p.Basis))
	w.rate("rate", p.Rate)
	w.rate("tax_rate", p.TaxRate)
	w.close()
}

func (w *writer) warning(x *estimate.Warning) {
	w.open()
	w.text("code", x.Code)
	w.text("severity", string(x.Severity))
	w.text("pointer", x.Pointer)
	w.text("text", x.Text)
	w.close()
}

func (w *writer) source(s *source.Source) {
	w.open()
	w.text("id", string(s.ID))
	w.text("title", s.Title)
	w.close()
}

// workings are left out when nobody asked for them.
func (w *writer) workings(all []estimate.Working) {
	if all == nil {
		return
	}
	writeAll(w, "workings", all, func(w *writer, x *estimate.Working) {
		w.open()
		w.text("name", x.Name)
		w.text("formula", x.Formula)
		writeAll(w, "inputs", x.Inputs, func(w *writer, in *estimate.Input) {
			w.open()
			w.text("name", in.Name)
			w.number("value", in.Value, 6)
			w.text("unit", in.Unit)
			w.close()
		})
		w.number("value", x.Value, 6)
		w.text("unit", x.Unit)
		w.text("source", string(x.Source))
		w.close()
	})
}
