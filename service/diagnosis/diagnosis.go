// Package diagnosis compares what is measured at a top that is in use with what its estimate predicts for that day: is it
// as predicted, is a leg held, was the wood made too wet or too dry, or does the model not explain it.
package diagnosis

import (
	"fmt"
	"math"
	"slices"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// Question is what was measured, when and where.
type Question struct {
	Date     catalogue.Date
	Run      string // name; empty: the first
	Corner   int    // from 1; 0: the first
	GapAt    joint.End
	Measured Measured
}

// Measured is what was measured; nil is what was not.
type Measured struct {
	Gap     *measure.Length // across the seam, at its widest
	Step    *measure.Length // along the seam, at its far end
	Width   *measure.Length // of the run, across the grain
	Content *measure.Moisture
	Air     *catalogue.Air
}

// Figures are what can be measured. A length that the top does not have is nil.
type Figures struct {
	Gap, Step, Width *measure.Length
	Content          measure.Moisture
}

// Finding is what comes out.
type Finding string

// The findings.
const (
	AsPredicted  Finding = "as_predicted"
	Held         Finding = "held"
	MadeWet      Finding = "made_wet"
	MadeDry      Finding = "made_dry"
	NotExplained Finding = "not_explained"
)

// Answer is the finding with its numbers.
type Answer struct {
	Units       measure.System
	Date        catalogue.Date
	Run         string
	Corner      int // from 1; 0: the top has none
	Making      measure.Moisture
	Now         measure.Moisture
	NowBy       string // content, air or season
	Finding     Finding
	Predicted   Figures
	Tolerance   Figures
	Bound       *measure.Length   // the gap of a seam whose legs cannot swing
	Implied     *measure.Moisture // at making, which would explain what was measured
	Text        string
	Advice      []string
	Assumptions []estimate.Assumption
	Sources     []source.Source
}

// What measuring and wood leave open. Common practice.
const (
	meterSpread    = measure.Moisture(1)       // points of a moisture meter
	seasonSpread   = measure.Moisture(1)       // points between two years
	branchSpread   = measure.Moisture(1)       // points between wood that dries and wood that is wetted
	woodSpread     = 0.15                      // of a board's movement from its species'
	tapeSpread     = 0.8 * measure.Millimetre  // of a width taken with a tape
	gaugeSpread    = 0.25 * measure.Millimetre // of a gap or step taken with feeler gauges
	mostOff        = measure.Moisture(6)       // points that wood may have been off when it was made
	driestMaking   = measure.Moisture(3)
	wettestMaking  = measure.Moisture(25)
	coldestDay     = 32 // of the year: 1 February, when rooms that are heated in winter have their driest air
	daysInAYear    = 365.25
	spreadsOfAYear = "the driest air about 1 February and the most humid about 1 August, as in houses that are heated in a northern winter"
)

// Diagnose compares. Faults carry pointers into the request.
func Diagnose(e *estimate.Estimate, q *Question, cat *catalogue.Snapshot) (*Answer, error) {
	d := diagnosis{e: e, q: q}
	if err := d.find(); err != nil {
		return nil, err
	}
	d.answer = Answer{Units: e.Units, Date: q.Date, Run: d.run.Name, Corner: d.corner, Making: d.run.Moisture.Making}
	if err := d.wet(cat); err != nil {
		return nil, err
	}
	d.predict()
	d.judge()
	d.advise()
	d.answer.Sources = append(
		d.answer.Sources,
		source.Select(func(id source.ID) bool { return id == source.CommonPractice })...)
	d.answer.Sources = unique(d.answer.Sources)
	return &d.answer, nil
}

func unique(all []source.Source) (out []source.Source) {
	for _, s := range all {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// diagnosis is the work on one.
type diagnosis struct {
	e      *estimate.Estimate
	q      *Question
	answer Answer
	run    *estimate.RunResult
	at     int // of the run
	corner int // from 1; 0: none
	seam   *estimate.Candidate
	spread measure.Moisture // of the moisture now
}

func impossible(pointer, detail, fix string) error {
	return &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: detail, Fix: fix}
}

// find looks up the run and the corner, and holds what was measured against what there is.
func (d *diagnosis) find() error {
	var wrong fault.List
	d.at = 0
	if d.q.Run != "" {
		d.at = slices.IndexFunc(d.e.Runs, func(r estimate.RunResult) bool { return r.Name == d.q.Run })
	}
	if d.at < 0 {
		wrong.Add("", impossible("/run", fmt.Sprintf("The top has no run named %q.", fault.Cut(d.q.Run, 60)), ""))
		d.at = 0
	}
	d.run = &d.e.Runs[d.at]
	d.corner = max(d.q.Corner, min(1, len(d.e.Corners)))
	if d.corner > len(d.e.Corners) {
		wrong.Add("", impossible("/corner", fmt.Sprintf("The top has %d corners.", len(d.e.Corners)), ""))
		d.corner = min(1, len(d.e.Corners))
	}
	if d.corner > 0 {
		c := &d.e.Corners[d.corner-1]
		for i := range c.Candidates {
			if c.Candidates[i].Joint == c.Chosen {
				d.seam = &c.Candidates[i]
			}
		}
	}
	m := &d.q.Measured
	if d.seam == nil {
		for name, l := range map[string]*measure.Length{"gap": m.Gap, "step": m.Step} {
			if l != nil {
				wrong.Add("", impossible("/measured/"+name, "The top has no seam at which this could be measured.", ""))
			}
		}
	}
	if m.Gap == nil && m.Step == nil && m.Width == nil && m.Content == nil && m.Air == nil {
		wrong.Add(
			"",
			impossible(
				"/measured",
				"Nothing was measured.",
				"Give a gap, a step, a width, the wood's moisture or the room's air.",
			),
		)
	}
	if m.Width != nil && math.Abs(float64(*m.Width/d.run.Depth)-1) > 0.1 {
		wrong.Add(
			"",
			impossible(
				"/measured/width",
				fmt.Sprintf("Run %s was made %s deep: a width of %s is another one's.", d.run.Name,
					d.run.Depth.Phrase(d.e.Units), m.Width.Phrase(d.e.Units)),
				"",
			),
		)
	}
	return wrong.Err()
}

// wet settles how wet the slab is on the day: as measured, by the measured air, or by the season.
func (d *diagnosis) wet(cat *catalogue.Snapshot) error {
	w, a := d.run.Moisture, &d.answer
	behind, known := estimate.BehindAir(d.e, d.at, cat)
	if !known {
		behind.Damping = 1
		a.Assumptions = append(a.Assumptions, estimate.Assumption{Pointer: "/date", Value: 0.0,
			Why: "days that the wood stays behind the air: the catalogue does not know its density any more"})
	}
	a.Sources = behind.Sources
	day, err := time.Parse(time.DateOnly, string(d.q.Date))
	if err != nil {
		return impossible("/date", "Must be a day of the calendar.", "")
	}
	middle, swing := float64(w.Dry+w.Humid)/2, float64(w.Humid-w.Dry)/2
	wave := func(late float64) float64 {
		return math.Cos(2 * math.Pi * (float64(day.YearDay()) - coldestDay - late) / daysInAYear)
	}
	air := measure.Moisture(middle - swing*wave(0))
	slab := measure.Moisture(middle - behind.Damping*swing*wave(behind.Lag))
	a.Predicted.Content, a.Tolerance.Content = slab, spreadOf(seasonSpread, meterSpread, (air-slab)/2)
	a.Now, a.NowBy, d.spread = slab, "season", spreadOf(seasonSpread, (air-slab)/2)
	switch m := &d.q.Measured; {
	case m.Content != nil:
		a.Now, a.NowBy, d.spread = *m.Content, "content", meterSpread
	case m.Air != nil:
		emc, err := wood.EMC(m.Air.Humidity, m.Air.Temperature)
		if err != nil {
			return impossible("/measured", "The air cannot be reckoned with: "+err.Error()+".", "")
		}
		off := emc - air
		a.Now, a.NowBy = slab+off*measure.Moisture(behind.Damping), "air"
		d.spread = spreadOf(branchSpread, off*measure.Moisture(1-behind.Damping), (air-slab)/2)
	default:
		a.Assumptions = append(
			a.Assumptions,
			estimate.Assumption{
				Pointer: "/measured/content",
				Value:   measure.Round(float64(slab), 2),
				Why:     "as wet as the season makes the slab: " + spreadsOfAYear + ", and the slab as far behind as its thickness and finish keep it; a meter tells better",
			},
		)
	}
	return nil
}

func spreadOf(all ...measure.Moisture) measure.Moisture {
	sum := 0.0
	for _, x := range all {
		sum += float64(x * x)
	}
	return measure.Moisture(math.Sqrt(sum))
}

// along is a figure that grows evenly with moisture: nothing at making, dry in the dry season, humid in the humid one.
func (d *diagnosis) along(m measure.Moisture, dry, humid measure.Length) measure.Length {
	w := d.run.Moisture
	down, up := w.Making-w.Dry, w.Humid-w.Making
	switch {
	case m < w.Making && math.Abs(float64(down)) > 1e-9 || math.Abs(float64(up)) <= 1e-9:
		if math.Abs(float64(down)) <= 1e-9 {
			return 0
		}
		return dry * measure.Length((w.Making-m)/down)
	}
	return humid * measure.Length((m-w.Making)/up)
}

// figure is one that is measured, as the wood's moisture makes it.
type figure struct {
	dry, humid measure.Length
	gauge      measure.Length
}

func (d *diagnosis) width() figure {
	m := &d.run.Movement
	return figure{m.ToDry, m.ToHumid, tapeSpread}
}

func (d *diagnosis) gap() figure {
	m := &d.seam.Movement
	return figure{m.Dry.Gap(m.HoldAt), m.Humid.Gap(m.HoldAt), gaugeSpread}
}

func (d *diagnosis) step() figure {
	m := &d.seam.Movement
	return figure{m.Dry.MaxSlip, m.Humid.MaxSlip, gaugeSpread}
}

// now is a figure on the day, with its sign, and how far off it may be.
func (d *diagnosis) now(f figure) (value, tolerance measure.Length) {
	value = d.along(d.answer.Now, f.dry, f.humid)
	return value, measure.Length(
		math.Hypot(math.Hypot(float64(d.slope(f))*float64(d.spread), woodSpread*float64(value)), float64(f.gauge)),
	)
}

// slope is a figure's growth for a point of moisture, about what it is now.
func (d *diagnosis) slope(f figure) measure.Length {
	return d.along(d.answer.Now+0.5, f.dry, f.humid) - d.along(d.answer.Now-0.5, f.dry, f.humid)
}

func magnitude(l measure.Length) measure.Length { return max(l, -l) }

func (d *diagnosis) predict() {
	a := &d.answer
	change, off := d.now(d.width())
	width := d.run.Depth + change
	a.Predicted.Width, a.Tolerance.Width = &width, &off
	if d.seam == nil {
		return
	}
	bound, gapOff := d.now(d.gap())
	bound = magnitude(bound)
	gap := bound
	if !d.seam.Movement.Restrained {
		gap, gapOff = 0, gaugeSpread // the legs swing, and nothing opens
	}
	a.Bound, a.Predicted.Gap, a.Tolerance.Gap = &bound, &gap, &gapOff
	step, stepOff := d.now(d.step())
	step = magnitude(step)
	a.Predicted.Step, a.Tolerance.Step = &step, &stepOff
}
