package coherence_test

import (
	"math"
	"strings"
)

// money holds bill, labour and price against each other to the cent.
func (a *answer) money() {
	parts := map[string]int64{}
	for i, l := range a.get("bill_of_materials").list() {
		a.must(l, l.get("line").int() == i+1, "the lines are not numbered in order")
		a.billLine(l)
		parts[partOfPrice(l.get("kind").text())] += l.get("amount").cents()
	}
	p := a.get("price")
	labour := int64(0)
	for _, s := range a.get("labour", "steps").list() {
		labour += s.get("amount").cents()
	}
	parts["labour"] = labour
	a.must(a.get("labour"), a.get("labour", "cost").cents() == labour, "the cost is not the sum of the steps, %d cents", labour)
	direct := int64(0)
	for _, name := range []string{"materials", "hardware", "consumables", "labour"} {
		a.must(p, p.get(name).cents() == parts[name], "%s is %s, its lines sum up to %d cents", name, p.get(name).text(), parts[name])
		direct += p.get(name).cents()
	}
	share := func(of int64, percent float64) int64 { return int64(math.Floor(float64(of)*percent/100 + 0.5 + 1e-9)) }
	cents := func(name string, want int64) {
		p.t.Helper()
		a.must(p, p.get(name).cents() == want, "%s is %s and must be %d cents", name, p.get(name).text(), want)
	}
	cents("overhead", share(direct, 18))   // of the demo shop, as its catalogue says: overhead 18 % and contingency 5 % of direct cost
	cents("contingency", share(direct, 5)) //
	cost := direct + p.get("overhead").cents() + p.get("contingency").cents()
	cents("cost", cost)
	net := float64(cost) * (1 + p.get("rate").num()/100)
	if p.get("basis").text() == "margin" {
		net = float64(cost) / (1 - p.get("rate").num()/100)
	}
	a.near(p, "net (cents)", float64(p.get("net").cents()), net, 0.5+1e-6)
	cents("margin", p.get("net").cents()-cost)
	cents("tax", share(p.get("net").cents(), p.get("tax_rate").num()))
	cents("total", p.get("net").cents()+p.get("tax").cents())
	a.near(p, "the deposit (cents)", float64(p.get("deposit").cents()), float64(p.get("total").cents())*a.depositRate()/100, 0.5+1e-6)
	r := p.get("range")
	p50, p80, p90 := r.get("p50").cents(), r.get("p80").cents(), r.get("p90").cents()
	a.must(r, p50 <= p80 && p80 <= p90, "P50, P80 and P90 are not in order")
	a.must(r, p90 > p50, "nothing is uncertain")
	a.must(r, p.get("total").cents() <= p90, "the total of %s is over P90", p.get("total").text())
	a.candidatesCosts()
}

// depositRate is as asked for, else the shop's, which stands among the assumptions.
func (a *answer) depositRate() float64 {
	if rate, said := a.order.body["pricing"].(map[string]any)["deposit"]; said {
		return toFloat(rate)
	}
	return a.assumed("/pricing/deposit").num()
}

func toFloat(x any) float64 {
	switch v := x.(type) {
	case int:
		return float64(v)
	case float64:
		return v
	}
	return math.NaN()
}

func (a *answer) assumed(pointer string) node {
	for _, x := range a.get("assumptions").list() {
		if x.get("pointer").text() == pointer {
			return x.get("value")
		}
	}
	a.t.Fatalf("nothing is assumed at %s", pointer)
	return node{}
}

// partOfPrice says where a kind of line goes: wood is material, what holds is hardware, the rest is used up.
func partOfPrice(kind string) string {
	switch kind {
	case "lumber", "panel", "moulding":
		return "materials"
	case "alignment", "pull", "fixing":
		return "hardware"
	}
	return "consumables"
}

// billLine: bought is at least what is needed and a whole number of packs; the amount is packs or quantity at their price.
func (a *answer) billLine(l node) {
	need, buy, price := l.get("need").num(), l.get("buy").num(), l.get("unit_price").decimal()
	a.must(l, buy > 0 && need > 0 && price > 0, "a line for nothing")
	bought := buy
	if !l.get("pack").null() {
		bought = l.get("pack", "count").num()
		a.near(l, "what is bought", buy, bought*l.get("pack", "size").num(), 1e-6)
	} else if unit := l.get("unit").text(); unit == "each" && l.get("kind").text() != "sundry" {
		a.must(l, buy == math.Trunc(buy), "%v of what is sold by the piece", buy)
	}
	a.near(l, "the amount (cents)", float64(l.get("amount").cents()), bought*price*100, 0.5+1e-6)
	a.needIsBought(l)
}

// needIsBought: an item may come in several pack sizes, one line each; together they cover the need.
func (a *answer) needIsBought(l node) {
	sum, most := 0.0, 0.0
	for _, other := range a.get("bill_of_materials").list() {
		if other.get("item").text() == l.get("item").text() {
			sum += other.get("buy").num()
			most = math.Max(most, other.get("need").num())
		}
	}
	a.atLeast(l, "what is bought of "+l.get("item").text(), sum, most, 1e-6)
}

// billed is how much of the items of a kind the bill says is needed, counting an item once.
func (a *answer) billed(kind string, item string) float64 {
	sum, seen := 0.0, map[string]bool{}
	for _, l := range a.get("bill_of_materials").list() {
		code := l.get("item").text()
		if l.get("kind").text() == kind && !seen[code] && (item == "" || item == code) {
			seen[code] = true
			sum += l.get("need").num()
		}
	}
	return sum
}

// candidatesCosts: the chosen joint's cost is the top's, and every difference is against it.
func (a *answer) candidatesCosts() {
	cost := a.get("price", "cost").cents()
	for i := range a.seams {
		s := &a.seams[i]
		a.must(s.chosen, s.chosen.get("cost").cents() == cost, "the chosen joint costs %s, the top %s", s.chosen.get("cost").text(), a.get("price", "cost").text())
		a.near(s.chosen, "labour_hours", s.chosen.get("labour_hours").num(), a.get("labour", "hours").num(), 0.011)
		best := 0.0
		for _, c := range s.corner.get("candidates").list() {
			if !c.get("feasible").flag() {
				continue
			}
			a.must(c, c.get("cost").cents()-cost == c.get("cost_difference").cents(), "costs %s, the top %s, and differs by %s", c.get("cost").text(),
				a.get("price", "cost").text(), c.get("cost_difference").text())
			best = math.Max(best, c.get("score").num())
		}
		a.scores(s)
	}
}

// scores: a candidate's score is the shop's base and the points of its findings; who is excluded is not feasible.
func (a *answer) scores(s *seam) {
	for _, c := range s.corner.get("candidates").list() {
		sum, excluded := 50.0, false // the demo shop's points before findings
		for _, f := range c.get("findings").list() {
			points, effect := f.get("points").num(), f.get("effect").text()
			sum += points
			excluded = excluded || effect == "excludes"
			a.must(f, points != 0 || f.get("rule").text() != "cost", "says nothing: 0 points for %s, %s", f.get("rule").text(), f.get("text").text())
			a.must(f, effect != "for" || points >= 0, "speaks for with %v points", points)
			a.must(f, effect != "against" || points <= 0, "speaks against with %v points", points)
			a.must(f, strings.TrimSpace(f.get("text").text()) != "", "has no reason")
		}
		a.must(c, c.get("feasible").flag() == !excluded, "feasible is %v and excluded is %v", c.get("feasible").v, excluded)
		if !excluded {
			a.near(c, "the score", c.get("score").num(), sum, 1e-9)
		}
	}
}
