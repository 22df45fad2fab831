package estimates

import (
	"encoding/json"
	"errors"
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// Read reads an answer to POST /v1/estimates back into an estimate, so that drawings and documents can be made of
// what was kept, with its figures as they were rounded then. Fields that an older answer does not have are zero.
// Assumptions and workings are not read: nothing is drawn of them.
func Read(answer []byte) (*estimate.Estimate, error) {
	var k keptEstimate
	if err := json.Unmarshal(answer, &k); err != nil {
		return nil, fmt.Errorf("read a kept estimate: %w", err)
	}
	r := &keptReader{units: measure.Inches}
	if k.Units == "mm" {
		r.units = measure.Millimetres
	}
	e := r.estimate(&k)
	if err := errors.Join(r.wrong...); err != nil {
		return nil, fmt.Errorf("read a kept estimate: %w", err)
	}
	return e, nil
}

// keptReader takes kept numbers over into types.
type keptReader struct {
	units measure.System
	wrong []error
}

func (r *keptReader) length(x float64) measure.Length {
	if r.units == measure.Inches {
		return measure.Length(x) * measure.Inch
	}
	return measure.Length(x) * measure.Millimetre
}

func (r *keptReader) lengths(all []float64) (out []measure.Length) {
	for _, x := range all {
		out = append(out, r.length(x))
	}
	return out
}

func (r *keptReader) points(all [][2]float64) (out []plan.Point) {
	for _, p := range all {
		out = append(out, plan.Point{X: r.length(p[0]), Y: r.length(p[1])})
	}
	return out
}

func (r *keptReader) area(x float64) measure.Area {
	if r.units == measure.Inches {
		return measure.Area(x) * measure.SquareFoot
	}
	return measure.Area(x) * measure.SquareMetre
}

func (r *keptReader) mass(x float64) measure.Mass {
	if r.units == measure.Inches {
		return measure.Mass(x) * measure.Pound
	}
	return measure.Mass(x) * measure.Kilogram
}

func (r *keptReader) force(x float64) measure.Force {
	if r.units == measure.Inches {
		return measure.Force(x) * measure.PoundForce
	}
	return measure.Force(x) * measure.Newton
}

func (r *keptReader) pressure(x float64) measure.Pressure {
	if r.units == measure.Inches {
		return measure.Pressure(x) * measure.PoundPerSquareInch
	}
	return measure.Pressure(x) * measure.Kilopascal
}

func angle(x float64) measure.Angle { return measure.Angle(x) * measure.Degree }

// keptMoney is an amount, a price or a rate as it was kept. An older answer may lack one, which is then empty and counts as zero;
// one that is there must be one.
type keptMoney string

// UnmarshalJSON refuses a text with nothing in it.
func (k *keptMoney) UnmarshalJSON(raw []byte) error {
	var text string
	if err := json.Unmarshal(raw, &text); err != nil {
		return err
	}
	if text == "" && string(raw) != "null" {
		return errors.New("an amount of the kept answer is empty")
	}
	*k = keptMoney(text)
	return nil
}

// kept reads a text by a parser of money; an empty one is zero.
func kept[Text ~string, T any](r *keptReader, text Text, parse func(string) (T, error)) (value T) {
	if text == "" {
		return value
	}
	value, err := parse(string(text))
	if err != nil {
		r.wrong = append(r.wrong, err)
	}
	return value
}

func (r *keptReader) amount(text keptMoney) money.Amount { return kept(r, text, money.ParseAmount) }

func (r *keptReader) quantity(text json.Number) money.Quantity {
	return kept(r, text, money.ParseQuantity)
}

func (r *keptReader) estimate(k *keptEstimate) *estimate.Estimate {
	e := &estimate.Estimate{Units: r.units, Reference: k.Reference, Currency: k.Currency, Revision: k.Catalogue.Revision, PricedAsOf: k.Catalogue.PricedAsOf,
		Made: r.made(&k.Top), Outline: r.points(k.Outline), Area: r.area(k.Area), Mass: r.mass(k.Weight), Fixing: r.fixing(&k.Fixing), Labour: r.labour(&k.Labour),
		Price: r.price(&k.Price), Cautions: k.Cautions}
	if c := k.Conditioning; c != nil {
		e.Conditioning = &estimate.Conditioning{Ready: c.Ready, Promise: c.Promise, Target: measure.Moisture(c.Target), Off: measure.Moisture(c.Off), Thickness: r.length(c.Thickness),
			Days: estimate.RestDays{Least: c.RestDays.Least, Likely: c.RestDays.Likely, Most: c.RestDays.Most}, Humidity: measure.Humidity(c.Humidity), Text: c.Text}
	}
	for i := range k.Runs {
		e.Runs = append(e.Runs, r.run(&k.Runs[i]))
	}
	for i := range k.Corners {
		e.Corners = append(e.Corners, r.corner(&k.Corners[i]))
	}
	for _, c := range k.Cutouts {
		e.Cutouts = append(e.Cutouts, estimate.CutoutResult{Run: c.Run, Kind: c.Kind, Outline: r.points(c.Outline), Area: r.area(c.Area), OpenAt: c.OpenAt})
	}
	for i := range k.Lumber {
		e.Lumber = append(e.Lumber, r.lumber(&k.Lumber[i]))
	}
	for i := range k.Bill {
		e.Bill = append(e.Bill, r.bill(&k.Bill[i]))
	}
	for _, w := range k.Warnings {
		e.Warnings = append(e.Warnings, estimate.Warning{Code: w.Code, Severity: estimate.Severity(w.Severity), Pointer: w.Pointer, Text: w.Text})
	}
	for _, s := range k.Sources {
		e.Sources = append(e.Sources, source.Source{ID: source.ID(s.ID), Title: s.Title})
	}
	return e
}

func (r *keptReader) made(k *keptTop) estimate.Made {
	return estimate.Made{Thickness: r.length(k.Thickness), Construction: estimate.Construction(k.Construction), Hand: plan.Hand(k.Hand),
		Profile: estimate.Profile(k.Edge.Profile), ProfileSize: r.length(k.Edge.Size), SquareEnds: k.Edge.SquareEnds, Moulding: r.length(k.Edge.Moulding),
		Finish: k.Finish.System, FinishName: k.Finish.Name, Coats: k.Finish.Coats, CureDays: k.Finish.Cure, Faces: estimate.Faces(k.Finish.Faces)}
}

func (r *keptReader) run(k *keptRun) estimate.RunResult {
	m, p, b := &k.Movement, &k.Piece, &k.Blank
	return estimate.RunResult{Name: k.Name, Species: k.Species, Wood: k.Wood, Sawn: catalogue.Sawn(k.Sawn), Depth: r.length(k.Depth),
		Moisture: estimate.Moistures{Making: measure.Moisture(k.Moisture.Making), Dry: measure.Moisture(k.Moisture.Dry), Humid: measure.Moisture(k.Moisture.Humid)},
		Movement: estimate.Movement{Coefficient: m.Coefficient, Method: estimate.Method(m.Method), DryStrain: m.DryStrain, HumidStrain: m.HumidStrain,
			ToDry: r.length(m.ToDry), ToHumid: r.length(m.ToHumid), Range: r.length(m.Range), AlongGrain: r.length(m.AlongGrain), FixedLine: hold(m.FixedLine), Swing: r.length(m.Swing), WallGap: r.length(m.WallGap)},
		WallJoint: estimate.WallJoint{Width: r.length(k.WallJoint.Width), Cover: estimate.Cover(k.WallJoint.Cover), Strip: r.length(k.WallJoint.Strip),
			Closes: r.length(k.WallJoint.Closes), Opens: r.length(k.WallJoint.Opens), Text: k.WallJoint.Text},
		Piece: estimate.Piece{WallEdge: r.length(p.WallEdge), FrontEdge: r.length(p.FrontEdge), LongEdge: r.length(p.LongEdge), ShortEdge: r.length(p.ShortEdge),
			StartAngle: angle(p.StartAngle), EndAngle: angle(p.EndAngle), Area: r.area(p.Area), Outline: r.points(p.Outline), Mass: r.mass(p.Weight)},
		People: k.People,
		Blank: takeoff.Blank{Length: r.length(b.Length), Width: r.length(b.Width), Thickness: r.length(b.Thickness), Rough: r.length(b.Rough), Staves: b.Staves,
			StaveWidth: r.length(b.StaveWidth), StaveRip: r.length(b.StaveRip), StaveLength: r.length(b.StaveLength), BoardFeet: b.BoardFeet}}
}

func (r *keptReader) corner(k *keptCorner) estimate.CornerResult {
	c := estimate.CornerResult{Angle: angle(k.Angle), Chosen: plan.Joint{Kind: plan.JointKind(k.Chosen), Through: plan.Side(k.Through)}, Why: k.Why}
	if c.Sensitivity = float64(angle(k.Sensitivity)); r.units == measure.Inches {
		c.Sensitivity /= measure.Inch.Millimetres()
	}
	if t := k.Close; t != nil {
		c.Close = estimate.Close{Lead: t.Lead, Other: plan.Joint{Kind: plan.JointKind(t.Other), Through: plan.Side(t.Through)}, Text: t.Text}
	}
	for i := range k.Candidates {
		c.Candidates = append(c.Candidates, r.candidate(&k.Candidates[i]))
	}
	return c
}

func (r *keptReader) candidate(k *keptCandidate) estimate.Candidate {
	g := &k.Geometry
	c := estimate.Candidate{Joint: plan.Joint{Kind: plan.JointKind(k.Joint), Through: plan.Side(k.Through)}, Feasible: k.Feasible, Score: k.Score, Carry: estimate.CarryToWood(k.Carry),
		Geometry: estimate.Geometry{SeamLength: r.length(g.SeamLength), SeamPath: r.points(g.SeamPath), FrontKeep: r.length(g.FrontKeep), First: r.cut(g.First), Second: r.cut(g.Second),
			NominalAngle: angle(g.NominalAngle), NominalErrorGap: r.length(g.NominalErrorGap), ProfileMismatch: r.length(g.ProfileMismatch)},
		Movement: estimate.SeamMovement{HoldAt: hold(k.Movement.HoldAt), FirstLine: hold(k.Movement.FirstLine), SecondLine: hold(k.Movement.SecondLine), Restrained: k.Movement.Restrained, RestrainedWhy: k.Movement.Why,
			NeededGapFirst: r.length(k.Movement.NeededGap[0]), NeededGapSecond: r.length(k.Movement.NeededGap[1]), Far: r.length(k.Movement.Far), Dry: r.season(k.Movement.Dry), Humid: r.season(k.Movement.Humid)},
		Hardware: r.hardware(&k.Hardware), Remedy: estimate.Remedy(k.Remedy), Cost: r.amount(k.Cost), CostDifference: r.amount(k.CostDifference), LabourHours: k.LabourHours}
	if p := k.OtherPull; p != nil {
		c.OtherPull = estimate.PullKind{Kind: catalogue.FastenerKind(p.Kind), Score: p.Score, CostDifference: r.amount(p.CostDifference)}
	}
	for _, f := range k.Findings {
		c.Findings = append(c.Findings, joint.Finding{Rule: joint.Rule(f.Rule), Effect: joint.Effect(f.Effect), Points: f.Points, Text: f.Text})
	}
	for _, one := range k.Remedies {
		c.Remedies = append(c.Remedies, estimate.RemedyCost{Remedy: estimate.Remedy(one.Remedy), Cost: r.amount(one.Cost), Text: one.Text})
	}
	if k.Strain != nil {
		c.Strain = estimate.SplitWarning{Stress: r.pressure(k.Strain.Stress), Strength: r.pressure(k.Strain.Strength)}
	}
	return c
}

// hold reads a place on a seam; auto is none.
func hold(text string) hardware.Hold {
	if text == "auto" {
		return hardware.HoldAuto
	}
	return hardware.Hold(text)
}

func (r *keptReader) cut(k keptCut) estimate.Cut {
	return estimate.Cut{CutAngle: angle(k.CutAngle), SawSetting: angle(k.SawSetting), WallEdge: r.length(k.WallEdge), FrontEdge: r.length(k.FrontEdge)}
}

func (r *keptReader) season(k keptSeason) joint.Season {
	return joint.Season{MaxSlip: r.length(k.MaxSlip), MaxOpening: r.length(k.MaxOpening), OpensAt: joint.End(k.OpensAt), Push: r.length(k.Push), AngleChange: angle(k.AngleChange),
		FirstShift: r.length(k.FirstShift), SecondShift: r.length(k.SecondShift)}
}

func (r *keptReader) hardware(k *keptHardware) hardware.Plan {
	h := hardware.Plan{Feasible: k.Feasible, Reason: k.Reason, HoldAt: hold(k.HoldAt), Tries: k.Tries}
	if a := k.Alignment; a != nil {
		h.Alignment = hardware.Alignment{Item: a.Item, Part: r.part(&a.Part, a.Item, a.Kind), Kind: catalogue.FastenerKind(a.Kind), Count: a.Count, Rows: a.Rows, Positions: r.lengths(a.Positions),
			SlotWidth: r.length(a.SlotWidth), SlotWidths: r.lengths(a.SlotWidths), Note: a.Note}
	}
	if p := k.Pull; p != nil {
		h.Pull = hardware.Pull{Groups: []hardware.PullGroup{r.pullGroup(&p.keptPullGroup)}, Capacity: r.force(p.Capacity), Ultimate: r.force(p.Ultimate), MomentForce: r.force(p.MomentForce), People: p.People, Note: p.Note}
		for i, leg := range p.Legs[:min(len(p.Legs), len(h.Pull.Legs))] {
			h.Pull.Legs[i] = hardware.Carried{Leg: hardware.Leg{Run: leg.Run, Mass: r.mass(leg.Weight), Arm: r.length(leg.Arm)}, MomentForce: r.force(leg.MomentForce), People: leg.People}
		}
		if p.Further != nil {
			further := r.pullGroup(&p.Further.keptPullGroup)
			further.Capacity = r.force(p.Further.Capacity)
			h.Pull.Groups = append(h.Pull.Groups, further)
		}
	}
	return h
}

func (r *keptReader) pullGroup(k *keptPullGroup) hardware.PullGroup {
	return hardware.PullGroup{Item: k.Item, Part: r.part(&k.Part, k.Item, k.Kind), Kind: catalogue.FastenerKind(k.Kind), Count: k.Count, Positions: r.lengths(k.Positions),
		HoleDiameters: r.lengths(k.HoleDiameters), Channels: r.lengths(k.Channels), Travel: r.length(k.Travel), RecessLength: r.length(k.RecessLength), Recesses: r.lengths(k.Recesses), Bearing: r.length(k.Bearing), Counts: k.Counts}
}

func (r *keptReader) part(k *keptPart, code, kind string) catalogue.Fastener {
	return catalogue.Fastener{Code: code, Kind: catalogue.FastenerKind(kind), Name: k.Name, Width: r.length(k.Width), Length: r.length(k.Length), Thickness: r.length(k.Thickness),
		ThreadDiameter: r.length(k.ThreadDiameter), HeadDiameter: r.length(k.HeadDiameter), WasherDiameter: r.length(k.WasherDiameter), BoreDiameter: r.length(k.BoreDiameter),
		Penetration: r.length(k.Penetration), BoltDiameter: r.length(k.BoltDiameter), RecessDiameter: r.length(k.RecessDiameter), RecessDepth: r.length(k.RecessDepth),
		RecessDistance: r.length(k.RecessDistance), BearingDiameter: r.length(k.BearingDiameter)}
}

func (r *keptReader) fixing(k *keptFixing) estimate.FixingResult {
	f := estimate.FixingResult{Kind: estimate.FixingKind(k.Kind), Item: k.Item, Count: k.Count, Note: k.Note}
	for _, run := range k.Runs {
		one := estimate.RunFixing{Run: run.Run, FixedLine: hold(run.FixedLine), Along: run.Along}
		for _, row := range run.Rows {
			one.Rows = append(one.Rows, estimate.FixingRow{FromFront: r.length(row.FromFront), SlotLength: r.length(row.SlotLength)})
		}
		for _, p := range run.Places {
			one.Places = append(one.Places, estimate.FixingPlace{Along: r.length(p.Along), FromFront: r.length(p.FromFront), SlotAcross: r.length(p.SlotAcross), SlotAlong: r.length(p.SlotAlong)})
		}
		f.Runs = append(f.Runs, one)
	}
	return f
}

func (r *keptReader) lumber(k *keptLumber) estimate.LumberPlan {
	l := takeoff.WoodPlan{Material: k.Material, NetBoardFeet: k.Net, YieldBoardFeet: k.Yield, PlanBoardFeet: k.Plan, BuyBoardFeet: k.Buy, StripsPerBoard: k.StripsPerBoard,
		Cost: r.amount(k.Cost), LowerBound: r.amount(k.LowerBound), Optimal: k.Optimal, Offcuts: r.lengths(k.Offcuts)}
	for _, b := range k.Boards {
		l.Boards = append(l.Boards, takeoff.BoardCount{Length: r.length(b.Length), Planned: b.Planned, Buy: b.Buy})
	}
	for _, s := range k.Strips {
		cut := takeoff.StripCut{Length: r.length(s.Length), Count: s.Count, Leftover: r.length(s.Leftover)}
		for _, p := range s.Pieces {
			cut.Pieces = append(cut.Pieces, takeoff.StripPiece{Run: p.Run, Length: r.length(p.Length)})
		}
		l.Strips = append(l.Strips, cut)
	}
	return l
}

func (r *keptReader) bill(k *keptLine) estimate.BillLine {
	b := takeoff.BillLine{Line: k.Line, Item: k.Item, Kind: takeoff.BillKind(k.Kind), Description: k.Description, Need: r.quantity(k.Need), Buy: r.quantity(k.Buy), Unit: catalogue.Unit(k.Unit),
		UnitPrice: kept(r, k.UnitPrice, money.ParseUnitPrice), Amount: r.amount(k.Amount), Supplier: k.Price.Supplier, ValidFrom: k.Price.ValidFrom, ConfirmedOn: k.Price.ConfirmedOn, Stale: k.Price.Stale}
	if k.Pack != nil {
		b.PackSize, b.Packs = r.quantity(k.Pack.Size), k.Pack.Count
	}
	return b
}

func (r *keptReader) labour(k *keptLabour) labour.Plan {
	l := labour.Plan{Hours: k.Hours, CriticalPathHours: k.CriticalPathHours, WorkingDays: k.WorkingDays, NoPromise: k.NoPromise, CuredDay: k.CuredDay, Cost: r.amount(k.Cost), CostDeviation: r.amount(k.CostDeviation).Float()}
	for i := range k.Steps {
		s := &k.Steps[i]
		l.Steps = append(l.Steps, labour.Step{Number: s.Number, Code: s.Code, Name: s.Name, When: catalogue.Condition(s.When), Role: s.Role, Crew: s.Crew,
			Minutes: labour.Minutes{Low: s.Minutes.Low, Likely: s.Minutes.Likely, High: s.Minutes.High, Expected: s.Minutes.Expected}, WaitHours: s.WaitHours, After: s.After,
			Critical: s.Critical, Day: s.Day, Rate: kept(r, s.Rate, money.ParseUnitPrice), Amount: r.amount(s.Amount), Gives: r.gives(s.Code, s.Gives), Note: s.Note})
	}
	return l
}

// givenBy is what the steps of the demo catalogue give, for answers that were kept before steps said it themselves.
var givenBy = map[string]catalogue.Service{"site_visit": catalogue.Measuring, "deliver": catalogue.Delivering, "join_on_site": catalogue.Joining,
	"install_base_fixings": catalogue.Fitting}

func (r *keptReader) gives(code string, said json.RawMessage) (service catalogue.Service) {
	if len(said) == 0 {
		return givenBy[code]
	}
	if err := json.Unmarshal(said, &service); err != nil {
		r.wrong = append(r.wrong, err)
	}
	return service
}

func (r *keptReader) price(k *keptPrice) price.Price {
	rate := func(n json.Number) money.Rate { return kept(r, n, money.ParseRate) }
	return price.Price{Materials: r.amount(k.Materials), Hardware: r.amount(k.Hardware), Consumables: r.amount(k.Consumables), Labour: r.amount(k.Labour), Overhead: r.amount(k.Overhead),
		Contingency: r.amount(k.Contingency), Cost: r.amount(k.Cost), Margin: r.amount(k.Margin), Net: r.amount(k.Net), Tax: r.amount(k.Tax), Total: r.amount(k.Total), Deposit: r.amount(k.Deposit),
		Range: price.Range{P50: r.amount(k.Range.P50), P80: r.amount(k.Range.P80), P90: r.amount(k.Range.P90)}, Basis: price.Basis(k.Basis), Rate: rate(k.Rate), TaxRate: rate(k.TaxRate)}
}
