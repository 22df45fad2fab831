package cutting

import "slices"

// mostPoints is how many different sums of contents are listed.
const mostPoints = 2048

// topping lists every content that boards can sum up to, with the cheapest boards for it: what it costs to bring a
// purchase up to the content that is asked for.
type topping struct {
	j      *job
	points []sum
	listed int64 // content up to which the list is whole
	filler int   // stock with the least price for its content
}

// sum is a content, the least price of boards that have it, and how it came about: one more board than another sum.
type sum struct {
	content, cost int64
	from, board   int32
	cheapest      int32 // the cheapest of this and all larger sums
}

// list fills the list in order of content: each sum is a smaller one and a board, and the next larger one is found by
// holding, for each stock, the smallest sum that has not got its board yet. A cover of the need that can spare no
// board is less than the need and the largest board, so that the list is whole when it reaches that.
func (t *topping) list(j *job) {
	t.j = j
	if j.least == 0 {
		return
	}
	most := int64(0)
	for s, c := range j.content {
		most = max(most, c)
		if f := t.filler; float64(j.cost[s])*float64(j.content[f]) < float64(j.cost[f])*float64(c) {
			t.filler = s
		}
	}
	next := make([]int32, len(j.content))
	t.points = append(make([]sum, 0, 96), sum{board: -1})
	for n := 0; t.points[n].content < j.least+most && n+1 < mostPoints; n++ {
		p := sum{content: 1 << 62}
		for s, at := range next {
			if j.content[s] == 0 {
				continue
			}
			content, cost := t.points[at].content+j.content[s], t.points[at].cost+j.cost[s]
			if content < p.content || content == p.content && cost < p.cost {
				p = sum{content: content, cost: cost, from: at, board: int32(s)}
			}
		}
		for s, at := range next {
			if t.points[at].content+j.content[s] == p.content {
				next[s]++
			}
		}
		t.points = append(t.points, p)
	}
	last := len(t.points) - 1
	t.listed = min(t.points[last].content-most, j.least)
	for i := last; i >= 0; i-- {
		t.points[i].cheapest = int32(i)
		if i < last && t.points[t.points[i+1].cheapest].cost < t.points[i].cost {
			t.points[i].cheapest = t.points[i+1].cheapest
		}
	}
}

// find returns the cheapest boards that have a content: a sum of the list, and so many fillers when the list does not
// reach that far.
func (t *topping) find(content int64) (at int32, fillers int64) {
	if content > t.listed {
		f := t.j.content[t.filler]
		fillers = (content - t.listed + f - 1) / f
		content -= fillers * f
	}
	if content <= 0 {
		return 0, fillers
	}
	i, _ := slices.BinarySearchFunc(t.points, content, func(p sum, c int64) int { return int(min(max(p.content-c, -1), 1)) })
	return t.points[i].cheapest, fillers
}

// cost is what boards of a content cost.
func (t *topping) cost(content int64) int64 {
	if content <= 0 {
		return 0
	}
	at, fillers := t.find(content)
	return t.points[at].cost + fillers*t.j.cost[t.filler]
}

// bound is what boards of a content cost at least: their cost, while the list is whole.
func (t *topping) bound(content int64) int64 {
	if content <= t.listed {
		return t.cost(content)
	}
	return int64(float64(content) * (1 - zero) / float64(t.j.content[t.filler]) * float64(t.j.cost[t.filler]))
}

// add puts the cheapest boards of a content on top of others.
func (t *topping) add(content int64, boards []int) {
	if content <= 0 {
		return
	}
	at, fillers := t.find(content)
	boards[t.filler] += int(fillers)
	for ; t.points[at].board >= 0; at = t.points[at].from {
		boards[t.points[at].board]++
	}
}
