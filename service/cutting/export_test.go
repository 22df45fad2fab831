package cutting

// Searched is what one of the two solvers took for a problem, in elementary steps, and found.
type Searched struct {
	Done        bool // the small one could, the large one proved it
	Spent       int64
	Cost, Bound int64
	Boards      []int
}

// Searches lets each solver by itself solve a problem.
func Searches(p *Problem, budget int64) (dynamic, program Searched, err error) {
	for k, s := range [...]*Searched{&dynamic, &program} {
		j := job{top: &topping{}}
		if err := j.load(p); err != nil {
			return dynamic, program, err
		}
		var lay layout
		if k == 0 {
			lay, s.Done = new(small).solve(&j, budget)
		} else {
			lay, s.Bound, s.Done = new(large).solve(&j, budget, layout{}, 0)
		}
		s.Spent = j.spent
		if k == 1 || s.Done {
			s.Cost, s.Boards = lay.cost(&j), lay.count(&j, nil)
		}
	}
	return dynamic, program, nil
}
