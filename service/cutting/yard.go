package cutting

// Yard solves problems one after the other in the same memory. Of problems over the same stocks, what it works out
// about their contents it need not work out again. The zero value is ready; two goroutines must not share one.
type Yard struct {
	top   topping
	job   job
	small small
	large large
}

// Purchase is what to buy and in what pattern to cut it, not yet written down strip by strip. It is for the yard's Cut;
// the zero value is empty.
type Purchase struct {
	Boards     []int   // boards to buy, for each stock
	Spare      []int   // those of them that are not cut: they are bought for their content
	Cost       float64 // money for all boards
	LowerBound float64 // no purchase costs less; equals Cost when the purchase is optimal
	Optimal    bool    // it is proved to be the cheapest
	Spent      int     // thousands of elementary steps, rounded up

	lay layout // its strips, without spare ones
}

// Buy finds the purchase of the plan that Solve would return, and writes it in place of what b was.
func (y *Yard) Buy(p *Problem, budget int, b *Purchase) error {
	if err := check(p); err != nil {
		return err
	}
	j := &y.job
	j.top = &y.top
	if err := j.load(p); err != nil {
		return err
	}
	if len(j.need) == 0 {
		b.clear(p)
		b.Optimal = true
		return nil
	}
	if budget <= 0 {
		budget = DefaultBudget
	}
	lay, exact := y.small.solve(j, 1000*int64(budget))
	bound, proved := int64(0), exact
	if !exact {
		lay, bound, proved = y.large.solve(j, 1000*int64(budget), lay, y.small.bound)
	}
	j.buy(p, &lay, bound, proved, b)
	b.Spent = int((j.spent + 999) / 1000)
	return nil
}

// Cut writes down how a purchase is cut that was found for the problem, by this yard or another, in place of what the
// plan was.
func (y *Yard) Cut(p *Problem, b *Purchase, plan *Plan) error {
	plan.Boards, plan.Spare = append(plan.Boards[:0], b.Boards...), append(plan.Spare[:0], b.Spare...)
	plan.Cost, plan.LowerBound, plan.Optimal, plan.Strips = b.Cost, b.LowerBound, b.Optimal, plan.Strips[:0]
	if plan.Strips == nil {
		plan.Strips = []Strip{}
	}
	if len(b.lay.stock) == 0 {
		return nil
	}
	j := &y.job
	j.top = &y.top
	if err := j.load(p); err != nil {
		return err
	}
	j.write(p, b, plan)
	return nil
}

// clear makes a purchase one of no boards.
func (b *Purchase) clear(p *Problem) {
	b.Boards, b.Spare = zeros(b.Boards, len(p.Stocks)), zeros(b.Spare, len(p.Stocks))
	b.Cost, b.LowerBound, b.Optimal, b.Spent = 0, 0, false, 0
	b.lay = layout{stock: b.lay.stock[:0], take: b.lay.take[:0]}
}

// zeros is a list of n zeros, in the memory of another one where that is enough.
func zeros[T int | int32 | int64 | float64 | bool](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, n)
	}
	list = list[:n]
	clear(list)
	return list
}
