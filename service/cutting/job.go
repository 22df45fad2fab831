package cutting

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// job is a problem in whole numbers, cleaned: equal lengths merged, useless stocks dropped.
type job struct {
	size    []int64 // of a kind of piece: length + kerf in nanometres, descending
	need    []int   // pieces of each kind, above zero
	room    []int64 // of a stock's strip: length + kerf + slack in nanometres, ascending
	cost    []int64 // of a stock's board in units of grid; ascending when no content is asked for
	content []int64 // of a stock's board in millionths
	least   int64   // content of the purchase, in millionths; 0: none is asked for
	top     *topping
	stock   []int // index in the problem of each stock kept
	kind    []int // kind of each demand of the problem, -1 when it asks for nothing
	order   []int // demands, longest first
	strips  int   // per board
	grid    int64 // greatest common divisor of the boards' prices, in millionths
	names   []int // demand of every piece, when a plan is written
	spent   int64 // elementary steps, but for those that the linear program counts

	longs []int64 // what the lists of pieces lie in, for the next problem
	ints  []int
	known known
}

// known is what was loaded of stocks all of which have a content, so that the next problem over them need not do it
// again.
type known struct {
	stocks []Stock
	kerf   measure.Length
	holds  bool    // they are loaded
	longs  []int64 // what the lists of stocks lie in
}

const (
	nanometres = 1e6 // in a millimetre
	millionths = 1e6 // in a unit of money
	slack      = 100 // nanometres that a strip may be short by: far above rounding, far below a saw
)

// check finds what is malformed.
func check(p *Problem) error {
	var list fault.List
	if len(p.Stocks) == 0 {
		list = append(list, invalid("/stocks", "there is no stock to cut from"))
	}
	if len(p.Stocks) > MostStocks {
		list = append(list, invalid("/stocks", fmt.Sprintf("%d stock lengths are too many; at most %d", len(p.Stocks),
			MostStocks)))
	}
	if p.StripsPerBoard < 1 || p.StripsPerBoard > MostStrips {
		list = append(list, invalid("/strips_per_board", fmt.Sprintf("a board must give 1 to %d strips, not %d", MostStrips,
			p.StripsPerBoard)))
	}
	if !(p.Kerf >= 0 && p.Kerf <= mostLength) {
		list = append(list, invalid("/kerf", "the kerf must be zero or more"))
	}
	pieces := 0
	for i, d := range p.Demands {
		if !(d.Length > 0 && d.Length <= mostLength) {
			list = append(list, invalid("/demands/"+strconv.Itoa(i)+"/length",
				"a piece must have a length above zero, at most 100 m"))
		}
		if d.Count < 0 || d.Count > MostPieces {
			list = append(list, invalid("/demands/"+strconv.Itoa(i)+"/count",
				fmt.Sprintf("the count must be 0 to %d, not %d", MostPieces, d.Count)))
			continue
		}
		pieces += d.Count
	}
	if pieces > MostPieces {
		list = append(list, invalid("/demands", fmt.Sprintf("%d pieces are too many; at most %d", pieces, MostPieces)))
	}
	content := 0.0
	for i, s := range p.Stocks {
		if !(s.Length > 0 && s.Length <= mostLength) {
			list = append(list, invalid("/stocks/"+strconv.Itoa(i)+"/length",
				"a board must have a length above zero, at most 100 m"))
		}
		if !(s.Cost >= leastCost && s.Cost <= mostCost) {
			list = append(list, invalid("/stocks/"+strconv.Itoa(i)+"/cost", "a board must cost between 0.0001 and 10 million"))
		}
		if !(s.Content >= 0 && s.Content <= mostContent) {
			list = append(list, invalid("/stocks/"+strconv.Itoa(i)+"/content", "a board's content must be zero to a million"))
		}
		content = max(content, s.Content)
	}
	if !(p.Content >= 0 && p.Content <= mostContent) || p.Content > MostPieces*content {
		list = append(list, invalid("/content",
			fmt.Sprintf("the content must be zero to a million, and %d boards must have it", MostPieces)))
	}
	return list.Err()
}

// load fills the job, or says which pieces no stock is long enough for.
func (j *job) load(p *Problem) error {
	j.strips, j.spent = p.StripsPerBoard, 0
	nd := len(p.Demands)
	j.longs, j.ints = zeros(j.longs, 2*nd), zeros(j.ints, 3*nd)
	longs, ints := j.longs, j.ints
	j.size = longs[:0:nd]
	wide := longs[nd : 2*nd]
	j.need, j.kind, j.order = ints[:0:nd], ints[nd:2*nd], ints[2*nd:3*nd]
	for i, d := range p.Demands {
		wide[i] = int64(math.Round(float64(d.Length+p.Kerf) * nanometres))
		j.order[i] = i
	}
	slices.SortStableFunc(j.order, func(a, b int) int { return int(min(max(wide[b]-wide[a], -1), 1)) })
	for _, i := range j.order {
		j.kind[i] = -1
		if p.Demands[i].Count == 0 {
			continue
		}
		last := len(j.size) - 1
		if last < 0 || j.size[last] != wide[i] {
			j.size, j.need, last = append(j.size, wide[i]), append(j.need, 0), last+1
		}
		j.need[last] += p.Demands[i].Count
		j.kind[i] = last
	}
	if len(j.need) == 0 {
		return nil
	}
	j.least = int64(math.Round(p.Content * millionths))
	if k := &j.known; !k.holds || j.least == 0 || k.kerf != p.Kerf || !slices.Equal(k.stocks, p.Stocks) {
		j.loadStocks(p)
	}
	if j.least > 0 {
		j.top.prepare(j.cost, j.content, j.least)
	}
	return j.tooLong(p, wide)
}

// loadStocks keeps the stocks that can be of use: a longer one that costs no more, and has no less of a content that is
// asked for, does as well; one too short for every piece only adds content.
func (j *job) loadStocks(p *Problem) {
	n, k := len(p.Stocks), &j.known
	k.longs = zeros(k.longs, 3*n)
	j.room, j.cost, j.content = k.longs[:0:n], k.longs[n:n:2*n], k.longs[2*n:2*n]
	j.stock = zeros(j.stock, n)[:0]
	k.stocks, k.kerf, k.holds = append(k.stocks[:0], p.Stocks...), p.Kerf, j.least > 0
	for i, s := range p.Stocks {
		room := int64(math.Round(float64(s.Length+p.Kerf)*nanometres)) + slack
		cost, content := int64(math.Round(s.Cost*millionths)), int64(0)
		if j.least > 0 {
			content = int64(math.Round(s.Content * millionths))
		}
		k.holds = k.holds && content > 0 // else what is kept depends on the pieces
		if room < j.size[len(j.size)-1] && content == 0 {
			continue
		}
		at := 0
		for at < len(j.room) && (j.room[at] < room || j.room[at] == room && j.cost[at] > cost) {
			at++
		}
		j.room, j.cost, j.stock = slices.Insert(j.room, at, room), slices.Insert(j.cost, at, cost),
			slices.Insert(j.stock, at, i)
		j.content = slices.Insert(j.content, at, content)
	}
	keep := len(j.room)
	for s := len(j.room) - 1; s >= 0; s-- {
		if !j.surpassed(s, keep) {
			keep--
			j.room[keep], j.cost[keep], j.content[keep], j.stock[keep] = j.room[s], j.cost[s], j.content[s], j.stock[s]
		}
	}
	j.room, j.cost, j.content, j.stock = j.room[keep:], j.cost[keep:], j.content[keep:], j.stock[keep:]
	j.grid = 0
	for _, c := range j.cost {
		j.grid = gcd(j.grid, c)
	}
	for s := range j.cost {
		j.cost[s] /= j.grid
	}
}

// poorest is the least content of a board that has any.
func (j *job) poorest() int64 {
	least := j.least
	for _, c := range j.content {
		if c > 0 {
			least = min(least, c)
		}
	}
	return least
}

// surpassed reports whether one of the stocks from keep on, all of them no shorter, does as well as stock s.
func (j *job) surpassed(s, keep int) bool {
	for k := keep; k < len(j.room); k++ {
		if j.cost[k] <= j.cost[s] && j.content[k] >= j.content[s] {
			return true
		}
	}
	return false
}

// tooLong says which demands fit no stock.
func (j *job) tooLong(p *Problem, wide []int64) error {
	if n := len(j.room); n > 0 && j.size[0] <= j.room[n-1] {
		return nil
	}
	longest := p.Stocks[0].Length
	for _, s := range p.Stocks {
		longest = max(longest, s.Length)
	}
	var list fault.List
	for i, d := range p.Demands {
		if d.Count == 0 || len(j.room) > 0 && wide[i] <= j.room[len(j.room)-1] {
			continue
		}
		list = append(list, &fault.Fault{
			Kind:    fault.Impossible,
			Pointer: "/demands/" + strconv.Itoa(i) + "/length",
			Detail: fmt.Sprintf("a piece of %.1f mm (%.2f in) is longer than the longest stock, %.1f mm (%.2f in)",
				d.Length.Millimetres(), d.Length.Inches(), longest.Millimetres(), longest.Inches()),
			Fix: "Offer a longer stock, or make the piece in two lengths.",
		})
	}
	return list.Err()
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
