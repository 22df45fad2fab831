package coherence_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seamwright/store/storetest"
)

// A way changes nothing of a top but that it is joined on site where it does not pass, and by joints whose pieces do; what it
// says of each piece agrees with the piece. Of joints that are not chosen it says which would not pass.
func TestAWayAgreesWithTheTopThatItIsFor(t *testing.T) {
	cat := storetest.Demo(t)
	passed, split := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		site, _ := o.body["site"].(map[string]any)
		site = map[string]any{"must_come_apart": site["must_come_apart"] == true}
		o.body["site"] = site
		length := func(name string, low, high float64) any { l, _ := o.length(within(t, name, low, high)); return l }
		site["way"] = []any{
			map[string]any{"kind": "door", "width": length("width", 700, 1000), "height": length("height", 1900, 2300)},
			map[string]any{"kind": "turn", "first": length("first", 700, 1500), "second": length("second", 700, 1500),
				"angle": math.Round(within(t, "turn", 60, 150)), "height": length("ceiling", 2000, 2600)},
			map[string]any{"kind": "lift", "width": length("car", 800, 2000), "depth": length("car's depth", 800, 2200),
				"height": length("car's height", 2000, 2400), "door_width": length("lift's door", 600, 800)},
		}
		whole, refused := ask(t, o.body, cat)
		if refused != nil {
			return
		}
		a := newAnswer(whole, o)
		advice := a.passage()
		if advice == "split" {
			split++
		} else {
			passed++
		}

		if !once(t, "held against a top without a way", 3) {
			return
		}
		plain := copied(t, o.body)
		joinedOnSite := site["must_come_apart"] == true
		for _, x := range whole.get("assumptions").list() {
			joinedOnSite = joinedOnSite || x.get("pointer").text() == "/site/must_come_apart"
		}
		plain["site"] = map[string]any{"must_come_apart": joinedOnSite}
		chosenByWay := a.joinedAsChosen(plain)
		if chosenByWay && len(a.get("corners").list()) > 1 {
			return // a chain with all of its joints named may find other lines and parts for them
		}
		without, refused := ask(t, plain, cat)
		if refused != nil {
			t.Fatalf("without a way it is refused: %v", refused)
		}
		if without.has("passage") {
			t.Fatalf("a passage where no way was told")
		}
		a.forgetDivided()
		ours, theirs := whole.v.(map[string]any), without.v.(map[string]any)
		for name := range theirs {
			switch name {
			case "assumptions", "warnings", "cautions", "sources":
			default:
				if name == "corners" && chosenByWay {
					continue // others are excluded, and these were asked for
				}
				if !reflect.DeepEqual(ours[name], theirs[name]) {
					t.Fatalf("the way changes %s", name)
				}
			}
		}
	})
	if passed < 5 || split < 5 {
		t.Fatalf("%d tops passed, %d were to be split: the draws show too little", passed, split)
	}
}

// forgetDivided takes out what is said of joints that are not chosen and whose pieces would not pass, for no points.
func (a *answer) forgetDivided() {
	for _, c := range a.get("corners").list() {
		for _, x := range c.get("candidates").list() {
			findings := x.v.(map[string]any)["findings"].([]any)
			x.v.(map[string]any)["findings"] = slices.DeleteFunc(findings, func(f any) bool {
				said := f.(map[string]any)
				if text, _ := said["text"].(string); said["rule"] != "site" || said["effect"] == "excludes" || !strings.Contains(text, "passes the way.") {
					return false
				}
				if fmt.Sprint(said["points"]) != "0" || x.get("joint").text() == c.get("chosen").text() && x.get("through").v == c.get("through").v {
					a.t.Fatalf("what would not pass counts, or is chosen: %v", said)
				}
				return true
			})
		}
	}
}

// joinedAsChosen asks for the joints of an answer where some were excluded for the way, and reports whether any were. Then
// every piece passes.
func (a *answer) joinedAsChosen(body map[string]any) bool {
	byWay := false
	for _, c := range a.get("corners").list() {
		for _, x := range c.get("candidates").list() {
			for _, f := range x.get("findings").list() {
				byWay = byWay || f.get("rule").text() == "site" && f.get("effect").text() == "excludes"
			}
		}
	}
	if !byWay {
		return false
	}
	if advice := a.get("passage").get("advice").text(); advice == "split" || advice == "does_not_pass" {
		a.t.Fatalf("joints were chosen by the way, and the pieces do not pass it: %s", advice)
	}
	asked := body["top"].(map[string]any)["corners"].([]any)
	for k, c := range a.get("corners").list() {
		corner := asked[k].(map[string]any)
		corner["joint"] = c.get("chosen").text()
		if through := c.get("through"); through.v != nil {
			corner["through"] = through.text()
		}
	}
	return true
}

// passage holds what is said of the way against the pieces, and returns the advice.
func (a *answer) passage() string {
	p := a.get("passage")
	longest, allPass := 0.0, true
	pieces := p.get("pieces").list()
	if len(pieces) != len(a.runs) {
		a.t.Fatalf("%d pieces of %d runs on the way", len(pieces), len(a.runs))
	}
	serious := 0
	for _, w := range a.get("warnings").list() {
		if w.get("code").text() == "piece_does_not_pass" {
			serious++
		}
	}
	stopped := 0
	for i, piece := range pieces {
		run := a.get("runs").list()[i]
		long := piece.get("length").num()
		if long != run.get("piece", "long_edge").num() || piece.get("depth").num() != run.get("depth").num() ||
			piece.get("thickness").num() != a.get("top", "thickness").num() {
			a.t.Fatalf("run %d is carried as another piece", i)
		}
		longest = max(longest, long)
		passes := a.carried(piece)
		allPass = allPass && passes
		if !passes {
			stopped++
			a.split(piece)
		} else if len(piece.get("splits").list()) != 0 {
			a.t.Fatalf("run %d passes and is to be split", i)
		}
	}
	if serious != stopped {
		a.t.Fatalf("%d pieces do not pass, %d warnings say so", stopped, serious)
	}
	vehicle := p.get("vehicle")
	if math.Abs(vehicle.get("longest_piece").num()-longest) > 1e-9 {
		a.t.Fatalf("the vehicle takes another longest piece")
	}
	advice := p.get("advice").text()
	joined := p.get("joined")
	if joined.null() != (len(pieces) == 1) {
		a.t.Fatalf("joined: %v of %d pieces", joined.v, len(pieces))
	}
	load := longest
	switch {
	case !allPass:
		if advice != "split" && advice != "does_not_pass" {
			a.t.Fatalf("a piece does not pass, and the advice is %s", advice)
		}
	case joined.null():
		if advice != "carry_whole" {
			a.t.Fatalf("one piece passes, and the advice is %s", advice)
		}
	case a.carried(joined) && advice == "carry_joined":
		load = joined.get("length").num()
	case advice != "join_on_site":
		a.t.Fatalf("the pieces pass, and the advice is %s", advice)
	}
	if math.Abs(vehicle.get("load_length").num()-load) > 1e-9 {
		a.t.Fatalf("the load is not what the advice carries")
	}
	return advice
}

// carried holds the steps of one thing that is carried: it passes if it is no longer than the longest.
func (a *answer) carried(piece node) bool {
	all := true
	for _, s := range piece.get("way").list() {
		passes := s.get("passes").flag()
		all = all && passes
		if passes == s.get("hold").null() {
			a.t.Fatalf("passes %v, held %v", passes, s.get("hold").v)
		}
		if longest := s.get("longest"); !longest.null() {
			if off := piece.get("length").num() - longest.num(); off > 2*a.least/a.mm && passes || off < 0 && !passes {
				a.t.Fatalf("a length of %v passes %v: at most %v does", piece.get("length").v, passes, longest.v)
			}
		}
	}
	if all != piece.get("passes").flag() {
		a.t.Fatalf("its steps pass %v, the whole %v", all, piece.get("passes").v)
	}
	return all
}

// split holds the places at which a piece is to be split: no part is longer than what passes, no place lies in a cut-out.
func (a *answer) split(piece node) {
	longest := math.Inf(1)
	for _, s := range piece.get("way").list() {
		if l := s.get("longest"); !l.null() {
			longest = min(longest, l.num())
		}
	}
	splits := piece.get("splits").nums()
	if len(splits) == 0 {
		return
	}
	var r *run
	for i := range a.runs {
		if a.runs[i].get("name").text() == piece.get("run").text() {
			r = &a.runs[i]
		}
	}
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range r.piece {
		along := (p.x-r.start.x)*r.along.x + (p.y-r.start.y)*r.along.y
		from, to = min(from, along/a.mm), max(to, along/a.mm)
	}
	last := from
	for _, at := range append(splits, to) {
		if at-last > longest+0.02/a.mm {
			a.t.Fatalf("a part of %v between %v and %v, where %v passes", at-last, last, at, longest)
		}
		last = at
	}
	for _, c := range a.get("cutouts").list() {
		if c.get("run").text() != piece.get("run").text() {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range c.get("outline").list() {
			xy := p.nums()
			along := ((xy[0]*a.mm-r.start.x)*r.along.x + (xy[1]*a.mm-r.start.y)*r.along.y) / a.mm
			low, high = min(low, along), max(high, along)
		}
		for _, at := range splits {
			if at > low && at < high {
				a.t.Fatalf("split at %v through a cut-out from %v to %v", at, low, high)
			}
		}
	}
}
