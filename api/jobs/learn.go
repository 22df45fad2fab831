package jobs

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/drawing/reliability"
	"seamwright/service/fault"
	"seamwright/service/learning"
	"seamwright/service/sheet"
	"seamwright/store/jobs"
	"seamwright/store/shelf"
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
	s.learning.Lock()
	defer s.learning.Unlock()
	l := &learned{dismissed: map[string]jobs.Dismissal{}}
	now := make([]learning.Job, 0, len(reports)) // as they would be estimated
	for i := range reports {
		if job := jobOf(&reports[i]); len(job.Steps) > 0 {
			l.jobs = append(l.jobs, job)
			now = append(now, job.Since(reports[i].Catalogue, changes))
			day := string(reports[i].Finished)
			if l.to = day; l.from == "" {
				l.from = day
			}
		}
	}
	for _, d := range dismissals {
		l.dismissed[d.Code] = d
	}
	l.model = learning.Learn(now)
	l.proposals = l.model.Proposals(c.Cat, s.Today(c.Cat))
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

func jobOf(r *jobs.Report) learning.Job {
	job := learning.Job{Reference: r.Quote}
	for _, s := range r.Steps {
		job.Steps = append(job.Steps, learning.Took(s))
	}
	return job
}

// proposal is that for a standard; a NotFound fault when no job tells of it.
func (l *learned) proposal(code string) (*learning.Proposal, error) {
	at := slices.IndexFunc(l.proposals, func(p learning.Proposal) bool { return p.Code == code })
	if at < 0 {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: "No report tells of a labour standard of that code."}
	}
	return &l.proposals[at], nil
}

// status says where a proposal stands.
func (l *learned) status(p *learning.Proposal) string {
	d, dismissed := l.dismissed[p.Code]
	switch {
	case !p.Change:
		return "keep"
	case dismissed && p.Evidence.Count < d.Jobs+quiet:
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

// postApproval takes a proposal: the standard is changed as it says, with an entry in the trail and a new revision.
func (s *room) postApproval(c *web.Call) error {
	seen, err := web.Read(c, readSeen)
	if err != nil {
		return err
	}
	p, err := s.asSeen(c, seen)
	if err != nil {
		return err
	}
	done, err := s.Store.Shelf.Edit(
		c.Ctx(),
		shelf.Edit{Part: sheet.LabourStandards, Keys: []string{p.Code}, Actor: c.Actor(),
			Decide: func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) { return taking(p, now) }},
	)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(decided{p.Code, "approved", done.Snapshot.Revision}))
}

// postDismissal notes that a proposal is not wanted; it comes back when many more jobs tell of it.
func (s *room) postDismissal(c *web.Call) error {
	seen, err := web.Read(c, readSeen)
	if err != nil {
		return err
	}
	p, err := s.asSeen(c, seen)
	if err != nil {
		return err
	}
	d := &jobs.Dismissal{Code: p.Code, Jobs: p.Evidence.Count, At: s.Now(), By: c.Actor()}
	if err := s.Store.Jobs.Dismiss(c.Ctx(), d); err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(decided{p.Code, "dismissed", c.Cat.Revision}))
}

type decided struct {
	Code     string `json:"code"`
	Decision string `json:"decision"`
	Revision int64  `json:"catalogue_revision"`
}

// seen is what somebody who decides has before them.
type seen struct {
	jobs   int
	factor float64
}

func readSeen(o *wire.Object) seen { return seen{o.Whole("jobs"), o.Number("factor")} }

// asSeen is the proposal of the path, as long as it is still the one that the caller has seen.
func (s *room) asSeen(c *web.Call, was seen) (*learning.Proposal, error) {
	l, err := s.learn(c)
	if err != nil {
		return nil, err
	}
	p, err := l.proposal(c.Param("code"))
	if err != nil {
		return nil, err
	}
	if !p.Change {
		return nil, &fault.Fault{Kind: fault.Conflict, Detail: "Nothing is proposed for this standard. " + p.Why}
	}
	if p.Evidence.Count != was.jobs || shownFactor(p.Factor) != was.factor {
		return nil, &fault.Fault{
			Kind: fault.Conflict,
			Detail: fmt.Sprintf("The proposal is another one by now: a factor of %v from %d jobs.",
				shownFactor(p.Factor), p.Evidence.Count),
			Fix: "Look at it again before you decide.",
		}
	}
	return p, nil
}

func shownFactor(x float64) float64 { return wire.Rounded(x, 3) }

// taking writes a proposal into its standard, which must be as it was when the proposal was made.
func taking(p *learning.Proposal, now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
	present, there := now[p.Code]
	if !there || !present.Live {
		return nil, nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no such labour standard any more."}
	}
	row := sheet.Row{Part: present.Row.Part, Cells: slices.Clone(present.Row.Cells)}
	for _, v := range []struct {
		column  string
		was, is float64
	}{
		{"setup_low", p.SetupBefore.Low, p.Setup.Low}, {"setup_likely", p.SetupBefore.Likely, p.Setup.Likely}, {"setup_high", p.SetupBefore.High, p.Setup.High},
		{"each_low", p.EachBefore.Low, p.Each.Low}, {"each_likely", p.EachBefore.Likely, p.Each.Likely}, {"each_high", p.EachBefore.High, p.Each.High},
	} {
		if held, err := strconv.ParseFloat(row.Get(v.column), 64); err != nil || held != v.was {
			return nil, nil, &fault.Fault{
				Kind:   fault.Conflict,
				Detail: "The standard has been changed since the proposal was made.",
				Fix:    "Look at it again before you decide.",
			}
		}
		row.Set(v.column, strconv.FormatFloat(v.is, 'f', -1, 64))
	}
	return []shelf.Write{{Row: row}}, nil, nil
}
