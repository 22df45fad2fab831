package coherence_test

import (
	"math"
	"strconv"
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
	a.must(a.get("labour"), a.get("labour", "cost").cents() == labour, "the cost is not the sum of the steps, %d cents",
		labour)
	direct := int64(0)
	for _, name := range []string{"materials", "hardware", "consumables", "labour"} {
		a.must(p, p.get(name).cents() == parts[name], "%s is %s, its lines sum up to %d cents", name, p.get(name).text(),
			parts[name])
		direct += p.get(name).cents()
	}
	share := func(of int64, percent float64) int64 { return int64(math.Floor(float64(of)*percent/100 + 0.5 + 1e-9)) }
	cents := func(name string, want int64) {
		p.t.Helper()
		a.must(p, p.get(name).cents() == want, "%s is %s and must be %d cents", name, p.get(name).text(), want)
	}
	// of the demo shop, as its catalogue says: overhead 18 % and contingency 5 % of direct cost
	cents("overhead", share(direct, 18))
	cents("contingency", share(direct, 5)) //
	cost := direct + p.get("overhead").cents() + p.get("contingency").cents()
	a.taxed(p)
	d := a.adjusted(p)
	cents("cost", cost+d.linesCost)
	net := float64(cost) * (1 + p.get("rate").num()/100)
	if p.get("basis").text() == "margin" {
		net = float64(cost) / (1 - p.get("rate").num()/100)
	}
	step := map[any]float64{"5.00": 500, "0.5": 50}[a.order.body["pricing"].(map[string]any)["round_total_to"]] // of the total, in cents
	most := 0.5 + 1e-6
	if !p.has("adjustments") {
		most = max(step, most)
	}
	a.near(p, "net of the top (cents)", float64(d.top), net, most)
	cents("net", d.top-d.off+d.rounding+d.lines)
	cents("margin", d.top-d.off+d.rounding+d.lines-cost-d.linesCost)
	if tax := p.get("tax_rate").num(); step > 0 { // the tax is taken out of the total
		gross := p.get("total").cents() - d.lines - d.linesTax
		cents("tax", int64(math.Floor(float64(gross)*tax/(100+tax)+0.5+1e-9))+d.linesTax)
		a.near(p, "steps of the total", math.Mod(float64(p.get("total").cents()), step), 0, 1e-9)
		a.near(p, "what rounding does (cents)", float64(d.rounding), 0, step)
		a.must(p, p.get("margin").cents() >= 0 || d.top-d.off+d.lines < cost+d.linesCost, "a round total is under the cost")
	} else {
		a.must(p, d.rounding == 0, "is rounded without a step")
		cents("tax", share(d.top-d.off, tax)+d.linesTax)
	}
	cents("total", p.get("net").cents()+p.get("tax").cents())
	a.near(p, "the deposit (cents)", float64(p.get("deposit").cents()),
		float64(p.get("total").cents())*a.depositRate()/100, 0.5+1e-6)
	r := p.get("range")
	p50, p80, p90 := r.get("p50").cents(), r.get("p80").cents(), r.get("p90").cents()
	a.must(r, p50 <= p80 && p80 <= p90, "P50, P80 and P90 are not in order")
	a.must(r, p90 > p50, "nothing is uncertain")
	a.must(r, p.get("total").cents() <= p90, "the total of %s is over P90", p.get("total").text())
	a.candidatesCosts()
}

// taxed holds the rate against the order, the region's against the demo's table.
func (a *answer) taxed(p node) {
	pricing := a.order.body["pricing"].(map[string]any)
	code, named := pricing["tax_region"].(string)
	want, given := pricing["tax"]
	a.must(p, p.has("tax_region") == named, "names a region that nobody named, or none")
	if named {
		a.must(p, p.get("tax_region").get("code").text() == code, "is taxed elsewhere")
		want, given = map[string]float64{"invented_abroad": 0, "invented_north": 6.5, "invented_south": 8.25}[code], true
	}
	if given {
		a.must(p, p.get("tax_rate").num() == toFloat(want), "is taxed at another rate")
	}
}

// adjustments are what discounts and extra lines of the order come to, in cents.
type adjustments struct{ top, off, rounding, lines, linesCost, linesTax int64 }

// adjusted reckons discounts and extra lines from the order and the net price of the top, and holds what the answer tells of them
// to that.
func (a *answer) adjusted(p node) (d adjustments) {
	pricing := a.order.body["pricing"].(map[string]any)
	discounts, _ := pricing["discounts"].([]any)
	lines, _ := pricing["lines"].([]any)
	if len(discounts)+len(lines) == 0 {
		a.must(p, !p.has("adjustments"), "tells of adjustments that nobody asked for")
		return adjustments{top: p.get("net").cents()}
	}
	share := func(of int64, percent float64) int64 { return int64(math.Floor(float64(of)*percent/100 + 0.5 + 1e-9)) }
	told := p.get("adjustments")
	d.top, d.rounding = told.get("top").cents(), told.get("rounding").cents()
	shown := told.get("discounts").list()
	a.must(told, len(shown) == len(discounts), "%d discounts of %d", len(shown), len(discounts))
	for i, one := range discounts {
		asked := one.(map[string]any)
		off := int64(0)
		if text, said := asked["amount"].(string); said {
			off = centsOf(text)
		} else {
			off = share(d.top, toFloat(asked["percent"]))
		}
		a.must(shown[i], shown[i].get("amount").cents() == off && shown[i].get("reason").text() == asked["reason"], "is not what was asked for")
		d.off += off
	}
	shown = told.get("lines").list()
	a.must(told, len(shown) == len(lines), "%d lines of %d", len(shown), len(lines))
	for i, one := range lines {
		asked := one.(map[string]any)
		net, rate := centsOf(asked["net"].(string)), p.get("tax_rate").num()
		cost := net
		if text, said := asked["cost"].(string); said {
			cost = centsOf(text)
		}
		if pricing["tax_region"] == "invented_north" { // the demo's table: lines are not taxed there
			rate = 0
		}
		if own, said := asked["tax"]; said {
			rate = toFloat(own)
		}
		tax, l := share(net, rate), shown[i]
		a.must(l, l.get("net").cents() == net && l.get("cost").cents() == cost && l.get("tax").cents() == tax &&
			l.get("total").cents() == net+tax && l.get("tax_rate").num() == rate && l.get("text").text() == asked["text"], "is not what was asked for")
		d.lines, d.linesCost, d.linesTax = d.lines+net, d.linesCost+cost, d.linesTax+tax
	}
	a.must(told, told.get("discount").cents() == d.off && told.get("lines_net").cents() == d.lines && told.get("lines_cost").cents() == d.linesCost &&
		told.get("top_tax").cents() == p.get("tax").cents()-d.linesTax, "the sums are not those of the parts")
	return d
}

// centsOf reads an amount as an order has it.
func centsOf(text string) int64 {
	whole, part, _ := strings.Cut(text, ".")
	n, err := strconv.ParseInt(whole+(part + "00")[:2], 10, 64)
	if err != nil {
		return math.MinInt64
	}
	return n
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
	case "alignment", "pull", "fixing", "support":
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
		a.must(s.chosen, s.chosen.get("cost").cents() == cost, "the chosen joint costs %s, the top %s",
			s.chosen.get("cost").text(), a.get("price", "cost").text())
		a.near(s.chosen, "labour_hours", s.chosen.get("labour_hours").num(), a.get("labour", "hours").num(), 0.011)
		best := 0.0
		for _, c := range s.corner.get("candidates").list() {
			if !c.get("feasible").flag() {
				continue
			}
			a.must(c, c.get("cost").cents()-cost == c.get("cost_difference").cents(), "costs %s, the top %s, and differs by %s",
				c.get("cost").text(),
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
			a.must(f, points != 0 || f.get("rule").text() != "cost", "says nothing: 0 points for %s, %s", f.get("rule").text(),
				f.get("text").text())
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
