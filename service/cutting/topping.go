package cutting

import "slices"

// mostPoints is how many different sums of contents are listed.
const mostPoints = 2048

// topping lists every content that boards can sum up to, with the cheapest boards for it: what it costs to bring a
// purchase up to the content that is asked for.
type topping struct {
	price, holds []int64 // of a board of each stock: its cost and content
	points       []sum
	listed       int64 // content up to which the list is whole
	filler       int   // stock with the least price for its content

	first [512]int16 // the first sum of a content of so many shares and more
	share uint       // as a power of two
}

// sum is a content, the least price of boards that have it, and how it came about: one more board than another sum.
type sum struct {
	content, cost int64
	from, board   int16
	cheapest      int16 // the cheapest of this and all larger sums
}

// prepare makes the list for the stocks and a content, unless it is there from a problem before: one that reaches so far, or one as
// long as lists get.
func (t *topping) prepare(cost, content []int64, least int64) {
	if (least <= t.listed || len(t.points) == mostPoints) && slices.Equal(cost, t.price) && slices.Equal(content, t.holds) {
		return
	}
	t.price, t.holds = append(t.price[:0], cost...), append(t.holds[:0], content...)
	t.list(least + least/8) // the next problem may ask for a little more
}

// list fills the list in order of content: each sum is a smaller one and a board, and the next larger one is found by
// holding, for each stock, the smallest sum that has not got its board yet. A cover of the need that can spare no
// board is less than the need and the largest board, so that the list is whole when it reaches that.
func (t *topping) list(least int64) {
	most := int64(0)
	t.filler = 0
	for s, c := range t.holds {
		most = max(most, c)
		if f := t.filler; float64(t.price[s])*float64(t.holds[f]) < float64(t.price[f])*float64(c) {
			t.filler = s
		}
	}
	var few [16]int16
	next := few[:0]
	for range t.holds {
		next = append(next, 0)
	}
	if t.points == nil {
		t.points = make([]sum, 0, 96)
	}
	t.points = append(t.points[:0], sum{board: -1})
	for n := 0; t.points[n].content < least+most && n+1 < mostPoints; n++ {
		p := sum{content: 1 << 62}
		for s, at := range next {
			if t.holds[s] == 0 {
				continue
			}
			content, cost := t.points[at].content+t.holds[s], t.points[at].cost+t.price[s]
			if content < p.content || content == p.content && cost < p.cost {
				p = sum{content: content, cost: cost, from: at, board: int16(s)}
			}
		}
		for s, at := range next {
			if t.points[at].content+t.holds[s] == p.content {
				next[s]++
			}
		}
		t.points = append(t.points, p)
	}
	last := len(t.points) - 1
	t.listed = t.points[last].content - most
	for i := last; i >= 0; i-- {
		t.points[i].cheapest = int16(i)
		if i < last && t.points[t.points[i+1].cheapest].cost < t.points[i].cost {
			t.points[i].cheapest = t.points[i+1].cheapest
		}
	}
	t.index()
}

// index notes where the sums of each share of the largest content begin.
func (t *topping) index() {
	largest := t.points[len(t.points)-1].content
	for t.share = 0; largest>>t.share >= int64(len(t.first)); t.share++ {
	}
	at := 0
	for i := range t.first {
		for at < len(t.points)-1 && t.points[at].content < int64(i)<<t.share {
			at++
		}
		t.first[i] = int16(at)
	}
}

// find returns the cheapest boards that have a content: a sum of the list, and so many fillers when the list does not
// reach that far.
func (t *topping) find(content int64) (at int16, fillers int64) {
	if content > t.listed {
		f := t.holds[t.filler]
		fillers = (content - t.listed + f - 1) / f
		content -= fillers * f
	}
	if content <= 0 {
		return 0, fillers
	}
	i := t.first[content>>t.share]
	for t.points[i].content < content {
		i++
	}
	return t.points[i].cheapest, fillers
}

// cost is what boards of a content cost.
func (t *topping) cost(content int64) int64 {
	if content <= 0 {
		return 0
	}
	at, fillers := t.find(content)
	return t.points[at].cost + fillers*t.price[t.filler]
}

// bound is what boards of a content cost at least: their cost, while the list is whole.
func (t *topping) bound(content int64) int64 {
	if content <= t.listed {
		return t.cost(content)
	}
	return int64(float64(content) * (1 - zero) / float64(t.holds[t.filler]) * float64(t.price[t.filler]))
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
