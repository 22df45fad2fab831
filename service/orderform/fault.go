package orderform

import (
	"regexp"
	"slices"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// places are the parts of an estimate's request with where a customer said them, and what is said of them to a
// customer. What the estimate itself says is for makers: it names parts, codes and figures of the shop.
var places = []struct {
	at     *regexp.Regexp
	to     string
	detail string // %s: how far openings keep from where the sides meet
}{
	{regexp.MustCompile(`^/top/runs/(\d+)/length`), "/sides/$1/long",
		"This side cannot be made in this length. Together with the depths that meet at its corners it is too short, or it is longer than our boards."},
	{regexp.MustCompile(`^/top/runs/(\d+)/depth`), "/sides/$1/deep", "This side is deeper than it is long. Give the longer measure as long."},
	{regexp.MustCompile(`^/top/runs/(\d+)`), "/sides/$1", "This side cannot be made as asked."},
	{regexp.MustCompile(`^/top/runs`), "/sides", "With these sides and corners the top would cross itself. Check the measures."},
	{regexp.MustCompile(`^/top/corners`), "/sides",
		"We have no sound way to make a corner of these sides, this thickness and this front edge. Try other measures, or ask us."},
	{regexp.MustCompile(`^/top/cutouts/(\d+)`), "/openings/$1",
		"This opening does not fit. It must lie within its side, keep at least %s from the corners where sides meet, and leave room for the others."},
	{regexp.MustCompile(`^/top/edge`), "/front_edge", "This front edge does not go with this thickness."},
	{regexp.MustCompile(`^/top/thickness`), "/thickness", "This wood is not to be had in this thickness at the moment."},
	{regexp.MustCompile(`^/top/species`), "/wood", "This wood is not to be had for this top at the moment."},
	{regexp.MustCompile(`^/top/fixing`), "/sides", "A top of this size needs a fixing that we cannot plan online. Ask us."},
	{regexp.MustCompile(`^/base/(\d+)`), "/base/$1",
		"The top would not be safe beside this stretch: too much of it would hang free. Name what else stands below, choose a thicker top, or ask us."},
	{regexp.MustCompile(`^/base`), "/base",
		"What stands below would not carry the top safely. Name what else stands there, choose a thicker top, or ask us."},
	{regexp.MustCompile(`^/finish`), "/finish", "This finish is not to be had at the moment."},
	{regexp.MustCompile(`^/moisture`), "/room", "We cannot plan a top for this room online. Ask us."},
	{regexp.MustCompile(``), "", "We cannot price this top online. Ask us, and we will."},
}

// Refusal says in the customer's words why no estimate could be made. An error that is not about the request comes
// back as it is.
func (f *Form) Refusal(err error) error {
	var out fault.List
	seen := map[string]bool{}
	all := fault.All(err)
	misplaced := slices.ContainsFunc(all,
		func(f *fault.Fault) bool {
			return strings.HasPrefix(f.Pointer, "/top/cutouts") || strings.HasPrefix(f.Pointer, "/base")
		})
	for _, one := range all {
		if one.Kind == fault.Internal || one.Kind == fault.Unavailable {
			return err
		}
		if misplaced && strings.HasPrefix(one.Pointer, "/top/corners") {
			continue // no joint is possible because of an opening in its way, or of what stands below
		}
		for _, p := range places {
			m := p.at.FindStringSubmatchIndex(one.Pointer)
			if m == nil {
				continue
			}
			to := string(p.at.ExpandString(nil, p.to, one.Pointer, m))
			if !seen[to] {
				seen[to] = true
				detail := strings.ReplaceAll(f.say(p.detail), "%s", f.phraseAs(f.clear, measure.Least))
				out = append(out, &fault.Fault{Kind: fault.Impossible, Pointer: to, Detail: detail})
			}
			break
		}
	}
	return out.Err()
}
