package orderform

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Answer is what a customer sees of an estimate, and all of it.
type Answer struct {
	Units       measure.System
	Currency    string
	Summary     string
	Exact       bool
	Total       money.Amount // of an exact price
	Deposit     money.Amount // of an exact price
	From, To    money.Amount // of a range; both the total of an exact price
	TaxIncluded bool
	Includes    []string
	Corners     []string // why each is made as it is
	Seasons     string
	WorkingDays int // 0: none are promised
	ValidUntil  catalogue.Date
	SiteVisit   string
	Plan        Plan
	Cautions    []string
}

// Answer makes the customer's answer of an estimate of the request's order.
func (f *Form) Answer(r *Request, est *estimate.Estimate) Answer {
	c := f.chosen(r)
	a := Answer{Units: r.Units, Currency: f.Currency, Summary: f.summary(r, c), Exact: f.Exact, TaxIncluded: f.TaxIncluded,
		Seasons: f.seasons(est), WorkingDays: est.Labour.WorkingDays, ValidUntil: est.PricedAsOf.AddDays(f.ValidDays),
		SiteVisit: f.SiteNote,
		Plan:      f.planOf(r, est)}
	total := est.Price.Total.RoundToStep(f.roundTo)
	a.Total = total
	a.From, a.To = f.priced(total)
	a.Deposit = total.Percent(f.deposit).Round(2)
	a.Includes = f.includes(r, c, est)
	for i := range est.Corners {
		a.Corners = append(a.Corners, f.say(est.Corners[i].Chosen.Kind.Traits().Customer)+" "+f.say(heldTogether))
	}
	a.Cautions = f.cautions(r, c, est)
	return a
}

// priced are the ends of what is shown for a total: both of it where prices are exact.
func (f *Form) priced(total money.Amount) (from, to money.Amount) {
	if f.Exact {
		return total, total
	}
	return total.Minus(total.Percent(f.spread)).RoundToStep(f.roundTo), total.Plus(total.Percent(f.spread)).RoundToStep(f.roundTo)
}

func (f *Form) summary(r *Request, c chosen) string {
	sizes := make([]string, len(r.Sides))
	for i, s := range r.Sides {
		sizes[i] = f.say("%s by %s", f.number(s.Long), f.number(s.Deep))
	}
	wood, thick := c.wood.inside, f.phrase(c.thickness.exact)
	all := strings.Join(sizes, " "+f.say("and")+" ") + " " + f.say(r.Units.String())
	switch r.Shape {
	case "l":
		return f.say("An L-shaped top of %s, %s thick, %s.", wood, thick, all)
	case "u":
		return f.say("A U-shaped top of %s, %s thick, %s.", wood, thick, all)
	}
	return f.say("A straight top of %s, %s thick, %s.", wood, thick, all)
}

func (f *Form) includes(r *Request, c chosen, est *estimate.Estimate) []string {
	out := []string{
		f.say("Solid wood throughout, made to measure."),
		f.say("Front edge: %s.", c.edge.inside),
	}
	if c.finish.code == "none" {
		out = append(out, f.say("The wood is left bare; it needs a finish before it is used."))
	} else {
		out = append(out, f.say("Finish: %s, on all faces.", c.finish.inside))
	}
	switch n := len(r.Openings); n {
	case 0:
	case 1:
		out = append(out, f.say("Cutting 1 opening."))
	default:
		out = append(out, f.say("Cutting %s openings.", strconv.Itoa(n)))
	}
	if carried, _ := f.carried(est); carried != "" {
		out = append(out, carried)
	}
	included, _ := est.Services()
	for _, s := range included {
		out = append(out, f.say(services[s]))
	}
	return append(out, f.Included)
}

// services are what the price includes besides the top, as the steps of its work give it.
var services = map[catalogue.Service]string{
	catalogue.Measuring:  "Measuring on site before anything is cut.",
	catalogue.Delivering: "Delivery.",
	catalogue.Joining:    "Joining the pieces.",
	catalogue.Fitting:    "Fitting to the base and at the wall.",
}

// heldTogether follows the reason for every joint.
const heldTogether = "It is drawn together from below and not glued, so that the wood can move with the seasons."

// seasons says kindly what the wood will do. The figure is the widest side's, rounded up to a coarse step.
func (f *Form) seasons(est *estimate.Estimate) string {
	text := f.say("Wood lives with the air around it: over a year each side may grow and shrink across its depth by up to about %s. That is natural, and we leave room for it at the wall.", f.phrase(f.moves(est)))
	switch turns := est.Turns(); turns {
	case 0:
	case 1:
		text += " " + f.say("At the corner you may see a fine line or a small step come and go.")
	default:
		at := make([]string, turns)
		for i := range at {
			at[i] = f.say("at corner %s (sides %s and %s)", strconv.Itoa(i+1), strconv.Itoa(i+1), strconv.Itoa(i+2))
		}
		text += " " + capital(f.say("%s you may see a fine line or a small step come and go.", strings.Join(at, " "+f.say("and")+" ")))
	}
	return text
}

// moves is by how much the widest side grows and shrinks over the year, rounded up to a coarse step.
func (f *Form) moves(est *estimate.Estimate) measure.Length {
	var most measure.Length
	for i := range est.Runs {
		most = max(most, est.Runs[i].Movement.Range)
	}
	step := measure.Inch / 8
	if f.Units == measure.Millimetres {
		step = 2 * measure.Millimetre
	}
	return measure.Length(math.Ceil(float64(most/step)-1e-9)) * step
}

func (f *Form) cautions(r *Request, c chosen, est *estimate.Estimate) []string {
	out := []string{
		f.say("This is an estimate from the measures that you gave, not an offer."),
		f.say("A wooden top is heavy. Do not carry or turn it alone."),
	}
	if _, caution := f.carried(est); caution != "" {
		out = append(out, caution)
	}
	has := func(what string) bool {
		return slices.ContainsFunc(r.Openings, func(o Opening) bool { return o.For == what })
	}
	if has("sink") || has("hob") {
		out = append(out, f.say("Electrical, gas and plumbing work is for licensed people under local codes. Keep the clearances that the maker of a sink or hob asks for, also to wood."))
	}
	if c.finish.heats {
		out = append(out, f.say("Rags with this finish can heat up and catch fire by themselves: when you renew the finish, spread them out flat to dry, or keep them under water in a closed metal can."))
	}
	if c.finish.code == "none" {
		out = append(out, f.say("Bare wood takes up water and stains: nothing wet and no food on it until it has a finish."))
	} else {
		out = append(out, f.say("No water, heat or food on it until the finish has hardened fully; we tell you the day."))
	}
	out = append(out, f.say("Steam from a dishwasher or an oven harms wood above it. In the first heating season the air is drier than the wood knows: do not let it get too dry."))
	return append(out, f.say("A top that must carry people or heavy loads is for a licensed engineer to judge."))
}
