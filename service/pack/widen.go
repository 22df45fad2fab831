package pack

import (
	"container/heap"
	"math/bits"
)

// label is a mixture of packs other than the filler.
type label struct {
	bought, cost, packs int64
	count               []int64
}

// labels is a heap: the least content first, then the best.
type labels struct {
	m    *mix
	list []*label
}

// Len is the number of open labels (heap.Interface).
func (l *labels) Len() int { return len(l.list) }

// Swap exchanges two labels (heap.Interface).
func (l *labels) Swap(i, k int) { l.list[i], l.list[k] = l.list[k], l.list[i] }

// Push appends a *label (heap.Interface).
func (l *labels) Push(x any) { l.list = append(l.list, x.(*label)) }

// Less puts the label to be widened next first (heap.Interface).
func (l *labels) Less(i, k int) bool { return l.m.earlier(l.list[i], l.list[k]) }

// Pop removes the last label (heap.Interface).
func (l *labels) Pop() any {
	last := len(l.list) - 1
	x := l.list[last]
	l.list = l.list[:last]
	return x
}

const mostLabels = 100_000

// cheaperRate reports whether a costs less than b for its size, exactly.
func cheaperRate(a, b kind) bool {
	ah, al := bits.Mul64(uint64(a.price), uint64(b.size))
	bh, bl := bits.Mul64(uint64(b.price), uint64(a.size))
	return ah < bh || ah == bh && al < bl
}

// earlier orders labels by content, then by worth.
func (m *mix) earlier(a, b *label) bool {
	if a.bought != b.bought {
		return a.bought < b.bought
	}
	return m.compare(a.choice(0, m), b.choice(0, m)) < 0
}

// choice is the label with n fillers.
func (a *label) choice(n int64, m *mix) *choice {
	return &choice{true, a.cost + n*m.filler.price, a.bought + n*m.filler.size, a.packs + n, a.count, n}
}

// widen goes through the mixtures in order of their content. Of those that differ by whole fillers,
// only those that beat the smaller ones, filled up to them, are kept. It reports false when there are
// too many; the best choice found then stands.
func (m *mix) widen() bool {
	kept := map[int64]*label{} // by content, whole fillers taken off
	open := &labels{m: m, list: []*label{{count: make([]int64, len(m.kinds))}}}
	for made := 0; len(open.list) > 0; {
		a := heap.Pop(open).(*label)
		if m.best.set && m.least(a.cost, a.bought) > float64(m.best.cost) {
			continue
		}
		part := a.bought % m.filler.size
		if o := kept[part]; o != nil && m.compare(o.choice((a.bought-o.bought)/m.filler.size, m), a.choice(0, m)) <= 0 {
			continue
		}
		kept[part] = a
		m.offer(a.count, a.cost, a.bought, a.packs)
		if a.bought >= m.need {
			continue
		}
		for i, k := range m.kinds {
			if made++; made > mostLabels {
				return false
			}
			b := &label{a.bought + k.size, a.cost + k.price, a.packs + 1, append([]int64(nil), a.count...)}
			b.count[i]++
			heap.Push(open, b)
		}
	}
	return true
}
