package learning

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Paid is what a job paid for an item beside what that had cost by the price by which it was estimated. Both are over 0.
type Paid struct {
	Job        int
	Item       string
	Size       string // of the pack, a decimal; 1 where it is sold by the unit
	Supplier   string
	ValidFrom  catalogue.Date
	Price      money.UnitPrice // of a pack
	ByPrice    float64
	ReallyPaid float64
}

// Price is what the jobs propose for the price of a pack.
type Price struct {
	Code      string // of the proposal: price.<item>.<size>
	Item      string
	Name      string
	Size      money.Quantity
	Supplier  string
	ValidFrom catalogue.Date // of the price in force
	Change    bool           // false: it may stay as it is, and Why says why
	Why       string
	Factor    float64 // paid over listed
	Before    money.UnitPrice
	After     money.UnitPrice // as proposed; as before when nothing is to change
	Evidence  Step
	Effects   []basket.Effect // on the reference tops, of this proposal alone; nil when nothing is to change
}

// Prices are what jobs propose for the prices that are in force on a day, by item and pack. Only jobs count that were
// estimated by the very price, so that what was learned and taken once is not learned again. Prices are seen as steps
// are: what a job paid in all more or less is the job's, a price moves by the weight of its evidence, and wild figures
// hardly count.
func Prices(paid []Paid, cat *catalogue.Snapshot, day catalogue.Date) []Price {
	jobs, found := map[int]*Job{}, map[string]Price{}
	var order []int
	for _, p := range paid {
		price, ok := inForce(&p, cat, day)
		if !ok {
			continue
		}
		found[price.Code] = price
		if jobs[p.Job] == nil {
			jobs[p.Job] = &Job{}
			order = append(order, p.Job)
		}
		j := jobs[p.Job]
		j.Steps = append(j.Steps, Took{Code: price.Code, Estimated: p.ByPrice, Minutes: p.ReallyPaid})
	}
	list := make([]Job, len(order))
	for i, n := range order {
		list[i] = *jobs[n]
	}
	m := Learn(list, &cat.Settings)
	out := make([]Price, len(m.Steps))
	for i := range m.Steps {
		out[i] = found[m.Steps[i].Code]
		out[i].propose(m, &m.Steps[i])
		if p := &out[i]; p.Change {
			p.Effects = basket.Effects(cat, []basket.Change{{Item: p.Item, Size: p.Size, Price: catalogue.Price{
				Supplier: p.Supplier, ValidFrom: day, Amount: p.After}}}, day)
		}
	}
	return out
}

// inForce is the price that a job was estimated by, where it is still the one in force.
func inForce(p *Paid, cat *catalogue.Snapshot, day catalogue.Date) (price Price, ok bool) {
	name, packs := packsOf(cat, p.Item)
	size, err := money.ParseQuantity(p.Size)
	if err != nil {
		return price, false
	}
	at := slices.IndexFunc(packs, func(k catalogue.Pack) bool { return k.Size.Cmp(size) == 0 })
	if at < 0 {
		return price, false
	}
	now, there := packs[at].PriceAsOf(day)
	if !there || now.Supplier != p.Supplier || now.ValidFrom != p.ValidFrom || now.Amount.Cmp(p.Price) != 0 {
		return price, false
	}
	return Price{Code: "price." + p.Item + "." + size.String(), Item: p.Item, Name: name, Size: size, Supplier: p.Supplier,
		ValidFrom: now.ValidFrom, Before: now.Amount, After: now.Amount}, true
}

func packsOf(cat *catalogue.Snapshot, item string) (name string, packs []catalogue.Pack) {
	if m := cat.MaterialByCode(item); m != nil {
		return m.Name, m.Packs
	}
	if f := cat.FastenerByCode(item); f != nil {
		return f.Name, f.Packs
	}
	return "", nil
}

// propose judges one price. What a shop pays is a mean of bills: of a log-normal variable it lies above the median by
// half the variance, as with minutes.
func (p *Price) propose(m *Model, e *Step) {
	p.Factor, p.Evidence = m.Factor(e), *e
	percent := 100 * (p.Factor - 1)
	switch {
	case e.Count < leastJobs:
		p.Why = fmt.Sprintf("Jobs that tell of it: %d; at least %d are needed.", e.Count, leastJobs)
	case math.Abs(e.Off) < certain*e.Error:
		p.Why = fmt.Sprintf("It is %+.0f %% off, which %d jobs do not tell from chance.", percent, e.Count)
	case math.Abs(p.Factor-1) < leastChange:
		p.Why = fmt.Sprintf("It is right to within %.0f %%.", 100*leastChange)
	default:
		after, err := money.ParseUnitPrice(money.RoundQuantity(measure.Round(p.Factor, 3)*p.Before.Float(), 4).String())
		if err != nil {
			p.Why = "What was paid is no price that a catalogue can hold."
			return
		}
		p.Change, p.After = true, after
		p.Why = fmt.Sprintf("%d jobs paid %.0f %% %s than its price of %s.", e.Count, math.Abs(percent), moreOrLess(percent),
			p.ValidFrom)
	}
}
