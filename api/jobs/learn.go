package jobs

import (
	"fmt"
	"net/http"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/drawing/reliability"
	"seamwright/service/fault"
	"seamwright/service/learning"
	"seamwright/store/jobs"
)

const (
	mostJobs = 5000 // that are learned from, the newest
	// quiet is how many more jobs must tell of a standard before a dismissed proposal is made again. Common practice.
	quiet = 20
)

// learned is what the reports say.
type learned struct {
	jobs      []learning.Job // as they were estimated
	model     *learning.Model
	proposals []learning.Proposal
	settings  []learning.Setting
	prices    []learning.Price
	dismissed map[string]jobs.Dismissal
	estimated [3]learning.Covered // by the estimates
	fitted    [3]learning.Covered // by the model, on the jobs that it was learned from
	from, to  string              // days; empty: no jobs
}

// learn works out what the reports say. It takes no caller's turn, and one of them runs at a time.
func (s *room) learn(c *web.Call) (*learned, error) {
	reports, err := s.Store.Jobs.Reports(c.Ctx(), c.Day("since"), mostJobs)
	if err != nil {
		return nil, err
	}
	dismissals, err := s.Store.Jobs.Dismissals(c.Ctx())
	if err != nil {
		return nil, err
	}
	changes, err := s.changes(c)
	if err != nil {
		return nil, err
	}
	turned, err := s.factorChanges(c)
	if err != nil {
		return nil, err
	}
	s.learning.Lock()
	defer s.learning.Unlock()
	l := &learned{dismissed: map[string]jobs.Dismissal{}}
	now := make([]learning.Job, 0, len(reports)) // as they would be estimated
	for i := range reports {
		if job := jobOf(&reports[i]); len(job.Steps) > 0 {
			l.jobs = append(l.jobs, job)
			now = append(now, job.Since(reports[i].Catalogue, changes, turned...))
			day := string(reports[i].Finished)
			if l.to = day; l.from == "" {
				l.from = day
			}
		}
	}
	for _, d := range dismissals {
		l.dismissed[d.Code] = d
	}
	l.model = learning.Learn(now, &c.Cat.Settings)
	day := s.Today(c.Cat)
	l.proposals = l.model.Proposals(c.Cat, day)
	l.settings = l.model.Settings(woodOf(reports, c.Cat), c.Cat, day)
	l.prices = learning.Prices(paidIn(reports), c.Cat, day)
	l.estimated = learning.Cover(l.jobs, learning.AsEstimated(c.Cat.Settings.CommonShare))
	l.fitted = learning.Cover(now, func(j *learning.Job) learning.Range { return l.model.Ahead(j.Steps) })
	return l, nil
}

// changes are those of the standards since estimates were made: what was taken of earlier jobs is not proposed again.
func (s *room) changes(c *web.Call) ([]learning.Change, error) {
	made, err := s.Store.Jobs.Changes(c.Ctx())
	list := make([]learning.Change, len(made))
	for i, m := range made {
		list[i] = learning.Changed(m.Code, m.Revision, m.Before.Setup, m.Before.Each, m.After.Setup, m.After.Each)
	}
	return list, err
}

// factorChanges are those of the factors of wood and maker since estimates were made.
func (s *room) factorChanges(c *web.Call) ([]learning.FactorChange, error) {
	made, err := s.Store.Jobs.SettingChanges(c.Ctx(), learning.FactorSettings())
	list := make([]learning.FactorChange, len(made))
	for i, m := range made {
		list[i] = learning.FactorChange(m)
	}
	return list, err
}

func jobOf(r *jobs.Report) learning.Job {
	job := learning.Job{Reference: r.Quote}
	for _, s := range r.Steps {
		job.Steps = append(job.Steps, learning.Took(s))
	}
	return job
}

// status says where a proposal stands.
func (l *learned) status(code string, change bool, told int) string {
	d, dismissed := l.dismissed[code]
	switch {
	case !change:
		return "keep"
	case dismissed && told < d.Jobs+quiet:
		return "dismissed"
	}
	return "open"
}

func (s *room) getLearnings(c *web.Call) error {
	l, err := s.learn(c)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(shownLearned(l, c.Cat)))
}

func (s *room) getCalibration(c *web.Call) error {
	l, err := s.learn(c)
	if err != nil {
		return err
	}
	if len(l.jobs) == 0 {
		return &fault.Fault{Kind: fault.NotFound, Detail: "No job has been reported, so there is nothing to draw."}
	}
	return c.Whole("image/svg+xml", reliability.Draw(l.estimated, l.fitted))
}

// postApproval takes a proposal: the catalogue is changed as it says, with an entry in the trail and a new revision.
func (s *room) postApproval(c *web.Call) error {
	seen, err := web.Read(c, readSeen)
	if err != nil {
		return err
	}
	o, err := s.asSeen(c, seen)
	if err != nil {
		return err
	}
	o.edit.Actor = c.Actor()
	done, err := s.Store.Shelf.Edit(c.Ctx(), o.edit)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(decided{o.code, "approved", done.Snapshot.Revision}))
}

// postDismissal notes that a proposal is not wanted; it comes back when many more jobs tell of it.
func (s *room) postDismissal(c *web.Call) error {
	seen, err := web.Read(c, readSeen)
	if err != nil {
		return err
	}
	o, err := s.asSeen(c, seen)
	if err != nil {
		return err
	}
	d := &jobs.Dismissal{Code: o.code, Jobs: o.jobs, At: s.Now(), By: c.Actor()}
	if err := s.Store.Jobs.Dismiss(c.Ctx(), d); err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(decided{o.code, "dismissed", c.Cat.Revision}))
}

type decided struct {
	Code     string `json:"code"`
	Decision string `json:"decision"`
	Revision int64  `json:"catalogue_revision"`
}

// seen is what somebody who decides has before them: of a standard or a price its factor, of a setting its value.
type seen struct {
	jobs          int
	factor, after *float64
}

func readSeen(o *wire.Object) seen {
	figure := func(key string) *float64 {
		if !o.Has(key) {
			return nil
		}
		x := o.Number(key)
		return &x
	}
	was := seen{o.Whole("jobs"), figure("factor"), figure("after")}
	if (was.factor == nil) == (was.after == nil) {
		o.Wrong("factor", "Say what was seen: factor, or after of a setting.")
	}
	return was
}

// asSeen is the proposal of the path, as long as it is still the one that the caller has seen.
func (s *room) asSeen(c *web.Call, was seen) (*offered, error) {
	l, err := s.learn(c)
	if err != nil {
		return nil, err
	}
	o, err := l.offered(c.Param("code"), c.Cat, s.Today(c.Cat))
	if err != nil {
		return nil, err
	}
	if !o.change {
		return nil, &fault.Fault{Kind: fault.Conflict, Detail: "Nothing is proposed for this " + o.one + ". " + o.why}
	}
	figure := was.factor
	if o.figure == "after" {
		figure = was.after
	}
	if o.jobs != was.jobs || figure == nil || *figure != o.value {
		return nil, &fault.Fault{
			Kind:   fault.Conflict,
			Detail: fmt.Sprintf("The proposal is another one by now: %s %v from %d jobs.", o.figure, o.value, o.jobs),
			Fix:    "Look at it again before you decide.",
		}
	}
	return o, nil
}

func shownFactor(x float64) float64 { return wire.Rounded(x, 3) }
