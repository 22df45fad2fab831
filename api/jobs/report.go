package jobs

import (
	"fmt"
	"math"
	"slices"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/money"
	"seamwright/store/jobs"
)

// entry is a report as it is sent.
type entry struct {
	finished  catalogue.Date
	revision  int
	note      string
	steps     []took
	materials []used
	defects   []string
}

type took struct {
	code    string
	minutes float64
}

type used struct{ item, paid, used, bought string }

func readActuals(o *wire.Object) entry {
	return entry{
		finished: o.Date("finished"),
		revision: o.Whole("revision"),
		note:     o.Prose("note"),
		defects:  o.Proses("defects"),
		steps: wire.Each(
			o.Children("steps"),
			func(o *wire.Object) took { return took{o.Line("code"), o.Number("minutes")} },
		),
		materials: wire.Each(o.Children("materials"), func(o *wire.Object) used {
			return used{o.Line("item"), readAmount(o, "paid"), readAmount(o, "used"), readAmount(o, "bought")}
		}),
	}
}

// readAmount reads a decimal of 0 or more; empty when it is not there.
func readAmount(o *wire.Object, key string) string {
	text := o.Text(key)
	if text == "" {
		return ""
	}
	a, err := money.ParseAmount(text)
	if err != nil || a.IsNegative() {
		o.Wrong(key, "Must be a decimal of 0 or more, such as 120.50.")
		return ""
	}
	return text
}

// report sets what was told of a job beside what was estimated of it, which is kept with it: what the catalogue says
// later
// changes nothing of the past.
func (s *room) report(c *web.Call, quote string, e *entry) (*jobs.Report, error) {
	number, est, experience, err := s.kept(c.Ctx(), quote, e.revision)
	if err != nil {
		return nil, err
	}
	r := &jobs.Report{Quote: quote, Revision: number, Finished: e.finished, Note: e.note, Defects: e.defects,
		ReportedAt: s.Now(), ReportedBy: c.Actor()}
	if r.Finished == "" {
		r.Finished = s.Today(c.Cat)
	}
	var wrong fault.List
	for i, t := range e.steps {
		step, why := stepOf(est, e.steps, i)
		if why != "" {
			wrong = append(
				wrong,
				&fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/steps/%d/code", i), Detail: why},
			)
			continue
		}
		one := jobs.Step{Code: t.code, Estimated: step.Minutes.Expected, Deviation: deviation(step), Minutes: t.minutes}
		scaledBy(&one, est, experience, c.Cat)
		r.Steps = append(r.Steps, one)
	}
	for i, u := range e.materials {
		if slices.IndexFunc(e.materials, func(o used) bool { return o.item == u.item }) < i {
			wrong = append(
				wrong,
				&fault.Fault{
					Kind:    fault.Impossible,
					Pointer: fmt.Sprintf("/materials/%d/item", i),
					Detail:  "The item stands in the list before.",
				},
			)
			continue
		}
		m := jobs.Material{Item: u.item, Estimated: billed(est, u.item), Paid: u.paid, Used: u.used, Bought: u.bought}
		asEstimated(&m, est)
		r.Materials = append(r.Materials, m)
	}
	if len(r.Steps)+len(r.Materials)+len(r.Defects)+len(wrong) == 0 {
		wrong = append(
			wrong,
			&fault.Fault{Kind: fault.Impossible, Detail: "A report tells of at least one step, material or defect."},
		)
	}
	return r, wrong.Err()
}

// stepOf is the estimate's step that the i-th of a report is about, or why there is none that it can be.
func stepOf(est *estimate.Estimate, told []took, i int) (*labour.Step, string) {
	code := told[i].code
	if slices.IndexFunc(told, func(o took) bool { return o.code == code }) < i {
		return nil, "The step stands in the list before."
	}
	at := slices.IndexFunc(est.Labour.Steps, func(s labour.Step) bool { return s.Code == code })
	if at < 0 {
		known := make([]string, len(est.Labour.Steps))
		for k := range known {
			known[k] = est.Labour.Steps[k].Code
		}
		return nil, "The estimate has no such step; it has " + wire.InWords(known) + "."
	}
	if est.Labour.Steps[at].Minutes.Expected <= 0 {
		return nil, "The estimate expects no time for this step, so that there is nothing to compare."
	}
	return &est.Labour.Steps[at], ""
}

// deviation is that of a step's minutes, as they were kept.
func deviation(s *labour.Step) float64 {
	m := s.Minutes
	return math.Sqrt(labour.Variance(catalogue.Spread{Low: m.Low, Likely: m.Likely, High: m.High}))
}

// scaledBy notes what scaled a step's estimate: the wood's hardness, by the standard as it is now, and the maker's
// experience.
func scaledBy(step *jobs.Step, est *estimate.Estimate, experience string, cat *catalogue.Snapshot) {
	at := slices.IndexFunc(cat.LabourStandards, func(s catalogue.LabourStandard) bool { return s.Code == step.Code })
	if at < 0 {
		return
	}
	s, by := &cat.LabourStandards[at], 1.0
	if s.ByExperience {
		if factor, err := labour.ExperienceFactor(experience, &cat.Settings); err == nil {
			step.Experience, by = experience, factor
		}
	}
	if s.ByHardness {
		for i := range est.Runs {
			if wood := cat.SpeciesByCode(est.Runs[i].Species); wood != nil {
				step.Hardness = max(step.Hardness, wood.SideHardness.Value)
			}
		}
		if step.Hardness > 0 {
			step.Running = max(1-labour.Expected(s.Setup)*by/step.Estimated, 0)
		}
	}
}

// billed is what the bill says that an item costs; empty when it is not in it.
func billed(est *estimate.Estimate, item string) string {
	sum, found := money.Zero, false
	for i := range est.Bill {
		if est.Bill[i].Item == item {
			sum, found = sum.Plus(est.Bill[i].Amount), true
		}
	}
	if !found {
		return ""
	}
	return sum.String()
}

// asEstimated notes what the estimate said of an item: by which price, where one line of the bill has it, and what of
// its wood was wanted.
func asEstimated(m *jobs.Material, est *estimate.Estimate) {
	at, lines := 0, 0
	for i := range est.Bill {
		if est.Bill[i].Item == m.Item {
			at, lines = i, lines+1
		}
	}
	if lines == 1 {
		l := &est.Bill[at]
		m.Buy, m.Pack, m.Price, m.Supplier, m.ValidFrom = l.Buy.String(), "1", l.UnitPrice.String(), l.Supplier, l.ValidFrom
		if !l.PackSize.IsZero() {
			m.Pack = l.PackSize.String()
		}
	}
	m.ByYield = true
	for i := range est.Lumber {
		if l := &est.Lumber[i]; l.Material == m.Item && l.NetBoardFeet > 0 {
			m.Net += l.NetBoardFeet
			m.ByYield = m.ByYield && l.ByYield()
		}
	}
	m.ByYield = m.ByYield && m.Net > 0
}

// shown is a report as answers show it.
type shown struct {
	Quote      string         `json:"quote"`
	Revision   int            `json:"revision"`
	Finished   catalogue.Date `json:"finished"`
	Note       string         `json:"note"`
	Minutes    minutes        `json:"minutes"`
	Steps      []shownStep    `json:"steps"`
	Materials  []shownUse     `json:"materials"`
	Defects    []string       `json:"defects"`
	ReportedAt string         `json:"reported_at"`
	ReportedBy string         `json:"reported_by"`
}

type minutes struct {
	Estimated float64 `json:"estimated"`
	Taken     float64 `json:"taken"`
}

type shownStep struct {
	Code      string  `json:"code"`
	Estimated float64 `json:"estimated"`
	Minutes   float64 `json:"minutes"`
	Ratio     float64 `json:"ratio"`
}

type shownUse struct {
	Item      string  `json:"item"`
	Estimated *string `json:"estimated"`
	Paid      *string `json:"paid"`
	Used      *string `json:"used"`
	Bought    *string `json:"bought"`
}

func shownReport(r *jobs.Report) shown {
	out := shown{r.Quote, r.Revision, r.Finished, r.Note, minutes{},
		wire.Shown(r.Steps, func(s *jobs.Step) shownStep {
			return shownStep{s.Code, wire.Rounded(s.Estimated, 2), s.Minutes, wire.Rounded(s.Minutes/s.Estimated, 3)}
		}),
		wire.Shown(r.Materials, func(m *jobs.Material) shownUse {
			return shownUse{m.Item, wire.Maybe(m.Estimated), wire.Maybe(m.Paid), wire.Maybe(m.Used), wire.Maybe(m.Bought)}
		}), wire.Listed(r.Defects), wire.Moment(r.ReportedAt), r.ReportedBy}
	for _, s := range r.Steps {
		out.Minutes.Estimated += s.Estimated
		out.Minutes.Taken += s.Minutes
	}
	out.Minutes = minutes{wire.Rounded(out.Minutes.Estimated, 2), wire.Rounded(out.Minutes.Taken, 2)}
	return out
}
