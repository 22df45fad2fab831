package labour

import (
	"cmp"
	"fmt"
	"slices"

	"seamwright/service/catalogue"
)

// network is the labour standards in their usual order and which of them follow which.
type network struct {
	standards []catalogue.LabourStandard
	first     []int // standard i follows follows[first[i]:first[i+1]], each the place of a standard
	follows   []int
	step      []int // place among the needed steps; -1: this job does not need it
	seen      []int // marks of the walk in progress
}

// newNetwork resolves the codes that standards, in their usual order, follow. An unknown code and a circle are faults
// of the catalogue, whether this job needs the steps or not.
func newNetwork(list []catalogue.LabourStandard) (*network, error) {
	edges := 0
	for i := range list {
		edges += len(list[i].After)
	}
	rest := make([]int, 3*len(list)+1+edges)
	cut := func(n int) []int {
		part := rest[:n:n]
		rest = rest[n:]
		return part
	}
	n := &network{standards: list, first: cut(len(list) + 1), step: cut(len(list)), seen: cut(len(list)),
		follows: rest[:0]}
	for i := range list {
		for _, code := range list[i].After {
			j := n.find(code, i)
			if j < 0 {
				return nil, fmt.Errorf("labour standard %s follows %q, which the catalogue does not have", list[i].Code, code)
			}
			n.follows = append(n.follows, j)
		}
		n.first[i+1] = len(n.follows)
	}
	for i := range list {
		if err := n.refuseCircle(i); err != nil {
			return nil, err
		}
	}
	return n, nil
}

// inOrder returns the standards sorted by order, then code: the list itself when it is, else a sorted copy.
func inOrder(list []catalogue.LabourStandard) []catalogue.LabourStandard {
	by := func(a, b *catalogue.LabourStandard) int {
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Code, b.Code))
	}
	for i := 1; i < len(list); i++ {
		if by(&list[i-1], &list[i]) > 0 {
			list = slices.Clone(list)
			slices.SortFunc(list, func(a, b catalogue.LabourStandard) int { return by(&a, &b) })
			return list
		}
	}
	return list
}

// find returns the place of a code, or -1. What a standard follows mostly stands a little before it.
func (n *network) find(code string, from int) int {
	for i := from; i >= 0; i-- {
		if n.standards[i].Code == code {
			return i
		}
	}
	for i := from + 1; i < len(n.standards); i++ {
		if n.standards[i].Code == code {
			return i
		}
	}
	return -1
}

func (n *network) before(i int) []int { return n.follows[n.first[i]:n.first[i+1]] }

// refuseCircle walks back from a standard; meeting one that is still being walked is a circle.
func (n *network) refuseCircle(i int) error {
	const walking, done = 1, 2
	switch n.seen[i] {
	case walking:
		return fmt.Errorf("labour standard %s follows itself, directly or through others", n.standards[i].Code)
	case done:
		return nil
	}
	n.seen[i] = walking
	for _, j := range n.before(i) {
		if err := n.refuseCircle(j); err != nil {
			return err
		}
	}
	n.seen[i] = done
	return nil
}

// followed is which needed steps each needed step follows, by their places.
type followed struct {
	first []int // step k follows list[first[k]:first[k+1]]
	list  []int
}

func (f *followed) of(k int) []int { return f.list[f.first[k]:f.first[k+1]] }

// walk finds what the needed steps follow.
func (f *followed) walk(n *network) {
	clear(n.seen)
	f.first, f.list = append(f.first[:0], 0), f.list[:0]
	for i := range n.standards {
		if n.step[i] >= 0 {
			f.list = n.gather(i, i+1, f.list)
			f.first = append(f.first, len(f.list))
		}
	}
}

// gather appends to list the needed steps that standard i follows. A standard that this job does not need passes
// on to what that one follows. The mark must be new for each walk.
func (n *network) gather(i, mark int, list []int) []int {
	for _, j := range n.before(i) {
		if n.seen[j] == mark {
			continue
		}
		n.seen[j] = mark
		if n.step[j] >= 0 {
			list = append(list, n.step[j])
		} else {
			list = n.gather(j, mark, list)
		}
	}
	return list
}

// number numbers the steps from 1: each time the first, in the usual order, whose predecessors all have their
// number. Without circles there always is one. It returns the numbers in an empty list's memory.
func (f *followed) number(numbers []int) []int {
	steps := len(f.first) - 1
	numbers = resize(numbers, steps)
	clear(numbers)
	first := 0
	for next := 1; next <= steps; next++ {
		for numbers[first] != 0 {
			first++
		}
		k := first
		for numbers[k] != 0 || slices.ContainsFunc(f.of(k), func(p int) bool { return numbers[p] == 0 }) {
			k++
		}
		numbers[k] = next
	}
	return numbers
}
