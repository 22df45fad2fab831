package coherence_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

// rail is as wide as a base's rails, seamHold as far from a seam as what carries may be. Common practice, which the demo shop has
// not changed.
const (
	rail     = 2 * inch
	seamHold = 4 * inch
)

// A base changes nothing of a top but where its fixings stand, and every fixing, span and overhang agrees with what is told of it.
func TestABaseAgreesWithTheTopThatStandsOnIt(t *testing.T) {
	cat := storetest.Demo(t)
	judged, all, thicker, kept := 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		o.drawBase(t)
		all++
		whole, refused := ask(t, o.body, cat)
		if refused != nil {
			if made, holds := asThickAsTold(t, o.body, refused, cat); made {
				thicker++
				if holds {
					kept++
				}
			}
			return
		}
		judged++
		a := newAnswer(whole, o)
		a.based()
		a.supported()
		a.agrees()
	})
	if 10*judged < all {
		t.Fatalf("only %d of %d bases were judged", judged, all)
	}
	if thicker == 0 || 50*(thicker-kept) > thicker { // at another thickness another joint may be better, which is told
		t.Fatalf("of %d tops as thick as a refusal said they hold, %d do", thicker, kept)
	}
}

var wouldHold = regexp.MustCompile(`told below it(?: and these joints)?, (.+?)( in)? of this wood would hold`)

// asThickAsTold orders a top that is refused for its base as thick as the refusal says that it would hold, with nothing added. It may be
// that no such stock is on sale.
func asThickAsTold(t tester, body map[string]any, refused []string, cat *catalogue.Snapshot) (made, holds bool) {
	said := wouldHold.FindStringSubmatch(strings.Join(refused, "\n"))
	if said == nil {
		return false, false
	}
	other := copied(t, body)
	other["top"].(map[string]any)["thickness"] = said[1]
	other["support"] = map[string]any{"add": "none", "alternatives": false}
	answer, refused := ask(t, other, cat)
	if refused != nil {
		return strings.Contains(strings.Join(refused, "\n"), "is dangerous"), false
	}
	return true, answer.get("base", "holds").flag()
}

// drawBase puts two cabinets under each run, and between them a bay that is open, filled or not told of.
func (o *order) drawBase(t *rapid.T) {
	var parts []any
	for i, name := range o.names {
		put := func(from, to float64, kind string, more map[string]any) {
			p := map[string]any{"run": name, "kind": kind}
			p["from"], _ = o.length(from)
			p["to"], _ = o.length(to)
			for key, value := range more {
				p[key] = value
			}
			parts = append(parts, p)
		}
		front, _ := o.length(within(t, "overhang", 0, min(0.45*o.depths[i], sample(t, "as far as", 90.0, 90.0, 300.0))))
		cabinet := map[string]any{"from_front": front, "closed": once(t, "closed", 20)}
		length := o.lengths[i]
		from := within(t, "bay's start", 0.35, 0.5) * length
		to := min(from+within(t, "bay", 200, 700), 0.8*length)
		put(0, from, "cabinet", cabinet)
		switch kind := sample(t, "what stands in the bay", "", "open", "appliance"); kind {
		case "":
		case "appliance":
			var more map[string]any
			if once(t, "its air is told", 2) {
				more = map[string]any{"air": map[string]any{"humidity": within(t, "its humidity", 10, 95), "temperature": within(t, "its warmth", 15, 50),
					"temperature_unit": "C"}}
			}
			put(from, to, kind, more)
		default:
			put(from, to, kind, nil)
		}
		put(to, length-30, "cabinet", cabinet)
	}
	o.body["base"], o.body["loads"] = parts, map[string]any{"use": "desk"}
	o.body["support"] = map[string]any{"add": sample(t, "what is added", "brackets", "legs", "none"), "alternatives": once(t, "alternatives", 8)}
}

// based: the parts lie side by side from one end of the piece to the other; strips lie on them, and hold up to their greatest length;
// seams are blocked where nothing is near; fixings stand over what carries.
func (a *answer) based() {
	b := a.get("base")
	holds := true
	fixed := a.get("fixing", "runs").list()
	for i, r := range b.get("runs").list() {
		run := a.runs[i]
		a.must(r, r.get("run").v == run.get("name").v, "is the base of run %v", run.get("name").v)
		parts := r.get("parts").list()
		for k := 1; k < len(parts); k++ {
			if a.length(parts[k].get("from")) < a.length(parts[k-1].get("to"))-2*a.least {
				for _, p := range parts[k:] { // what hangs at the wall or stands before what carries
					a.must(p, p.get("supplied").flag(), "overlaps what nobody told of")
				}
				break
			}
			a.near(parts[k], "from", a.length(parts[k].get("from")), a.length(parts[k-1].get("to")), 2*a.least)
		}
		carries := func(along, front float64) bool {
			for _, p := range parts {
				from, depth := a.length(p.get("from_front")), a.length(p.get("depth"))
				starts, ends := along >= a.length(p.get("from"))-2*a.least, along <= a.length(p.get("to"))+2*a.least
				near := math.Abs(front-from-rail/2) <= rail/2+2*a.least || math.Abs(from+depth-rail/2-front) <= rail/2+2*a.least
				switch p.get("kind").text() {
				case "open", "appliance":
				case "batten":
					near = front >= from-2*a.least && front <= from+depth+2*a.least
					fallthrough
				default:
					if starts && ends && near {
						return true
					}
				}
			}
			return false
		}
		a.appliances(r, parts)
		for _, s := range r.get("strips").list() {
			holds = holds && s.get("holds").flag()
			longest := 0.0
			for _, l := range a.lengths(s.get("lengths")) {
				longest = math.Max(longest, l)
			}
			if !s.get("greatest_length").null() {
				most := a.length(s.get("greatest_length"))
				a.must(s, s.get("holds").flag() == (longest <= most) || math.Abs(longest-most) < 0.1, "%.2f mm, up to %.2f hold", longest, most)
			}
			a.must(s, s.get("long_term").num() >= s.get("deflection").num(), "it sags less in time")
			if s.get("direction").text() == "along" && s.get("support").text() != "overhang" {
				sum, spans := 0.0, a.lengths(s.get("lengths"))
				for _, l := range spans {
					sum += l
				}
				a.near(s, "the spans", sum, a.length(s.get("to"))-a.length(s.get("from")), float64(len(spans)+2)*a.least) // each is rounded
			}
		}
		if len(fixed) > i {
			for _, p := range fixed[i].get("places").list() {
				along, front := a.length(p.get("along")), a.length(p.get("from_front"))
				a.must(p, carries(along, front), "stands over no rail of run %v, at %.1f and %.1f from the front", run.get("name").v, along, front)
			}
		}
	}
	a.must(b, holds == b.get("holds").flag(), "its strips say %v", holds)
	for _, s := range b.get("blocking").list() {
		seam := &a.seams[s.get("corner").int()]
		a.near(s, "length", a.length(s.get("length")), pathLength(seam.path), 4*a.least)
	}
}

// appliances: each that stands below a piece tells its air, as it was told or else the usual, and the cup that follows, towards the
// damper face; damper air below cups more.
func (a *answer) appliances(r node, parts []node) {
	stand := map[int]bool{}
	for _, p := range parts {
		if p.get("kind").text() == "appliance" {
			stand[p.get("entry").int()] = true
		}
	}
	var all []node
	if r.has("appliances") {
		all = r.get("appliances").list()
	}
	a.must(r, len(all) <= len(stand), "%d appliances, of which %d stand there", len(all), len(stand))
	for _, x := range all {
		entry := x.get("entry").int()
		a.must(x, stand[entry], "no appliance of entry %d stands there", entry)
		delete(stand, entry)
		humidity, celsius := 60.0, 25.0
		if told, is := a.order.body["base"].([]any)[entry].(map[string]any)["air"].(map[string]any); is {
			humidity, celsius = told["humidity"].(float64), told["temperature"].(float64)
		}
		a.near(x, "humidity", x.get("air", "humidity").num(), humidity, 0.005001)
		warm := x.get("air", "temperature").num()
		if x.get("air", "temperature_unit").text() == "F" {
			warm = (warm - 32) / 1.8
		}
		a.near(x, "temperature (°C)", warm, celsius, 0.01)
		off := x.get("face").num() - x.get("room").num()
		a.must(x, off*x.get("cup").num() >= 0 || math.Abs(off) < 0.02, "it cups away from the damper face")
	}
	for entry := range stand {
		a.must(r, false, "the air at the appliance of entry %d is not told", entry)
	}
}

// supported: what comes with the top is drawn, bought, fitted and strong enough; blocking and battens are bought by the metre.
func (a *answer) supported() {
	b := a.get("base")
	bought, drawn, timber := map[string]float64{}, map[string]int{}, 0.0
	brackets, legs := 0, 0
	for _, s := range b.get("blocking").list() {
		timber += a.length(s.get("length"))
	}
	for _, s := range b.get("supports").list() {
		run, kind, count := s.get("run").text(), s.get("kind").text(), s.get("count").int()
		at := a.lengths(s.get("positions"))
		drawn[run] += count
		switch kind {
		case "batten":
			timber += a.length(s.get("to")) - a.length(s.get("from"))
			a.must(s, len(at) == 0, "a batten stands at places")
			continue
		case "bracket":
			brackets += count
			bought[s.get("item").text()] += float64(count)
		case "legs":
			n := s.get("legs").int()
			legs += n
			bought[s.get("item").text()] += float64(n)
			a.must(s, n == count || n == 2*count, "%d legs of %d", n, count)
			if n == 2*count {
				timber += float64(count) * a.length(s.get("reach"))
			}
		}
		a.must(s, len(at) == count, "%d places of %d", len(at), count)
		apart := 0.0
		for k := 1; k < len(at); k++ {
			apart = math.Max(apart, at[k]-at[k-1])
		}
		if count > 1 {
			a.near(s, "spacing", a.length(s.get("spacing")), apart, 4*a.least)
		}
		a.must(s, apart <= 24*inch+4*a.least, "they stand %.0f mm apart", apart)
		a.must(s, s.get("load").num() <= s.get("working_load").num(), "each would bear more than it may")
	}
	for _, r := range b.get("runs").list() {
		n := 0
		for _, p := range r.get("parts").list() {
			if p.get("supplied").flag() {
				n++
			}
		}
		a.must(r, n == drawn[r.get("run").text()], "%d are drawn, %d come with the top", n, drawn[r.get("run").text()])
	}
	for item, n := range bought {
		a.near(b, "how many of "+item, a.billed("support", item), n, 1e-9)
	}
	a.near(b, "timber (mm)", a.billed("support", "sundry_base_timber")*1000, 1.1*timber, 20*a.least+0.6)
	steps := map[string]bool{}
	for _, s := range a.get("labour", "steps").list() {
		steps[s.get("when").text()] = true
	}
	if site, told := a.order.body["site"].(map[string]any); !told || site["assembled_by"] != "customer" {
		a.must(b, steps["support_bracket"] == (brackets > 0) && steps["support_leg"] == (legs > 0) && steps["base_timber"] == (timber > 0),
			"%d brackets, %d legs, %.0f mm of timber, and the steps %v", brackets, legs, timber, steps)
	}
	for _, w := range b.get("alternatives").list() {
		more, whole := w.get("total_difference").cents(), a.get("price", "total").cents()
		a.must(w, more > -whole, "it costs nothing")
		a.must(w, (w.get("cost_difference").cents() > 0) == (more > 0) || more > -200 && more < 200, "cost and price differ the other way")
	}
}
