package base

import "seamwright/service/measure"

// Memory is where lines are laid and their strips told. What lies in it is good until it is cleared, or taken back to a mark that was
// made before. It is for one goroutine at a time.
type Memory struct {
	parts   []Part
	ways    []Way
	lengths []measure.Length
}

// Mark is how much lies in a memory.
type Mark struct{ parts, ways, lengths filled }

// filled is how much of a list is taken, and how much it has room for: a list that is full is followed by a longer one.
type filled struct{ taken, room int }

// Mark is how much lies in it now.
func (m *Memory) Mark() Mark {
	return Mark{filled{len(m.parts), cap(m.parts)}, filled{len(m.ways), cap(m.ways)}, filled{len(m.lengths), cap(m.lengths)}}
}

// Release takes back all that was laid since a mark.
func (m *Memory) Release(to Mark) {
	m.parts, m.ways, m.lengths = takenBack(m.parts, to.parts), takenBack(m.ways, to.ways), takenBack(m.lengths, to.lengths)
}

// Clear takes back everything.
func (m *Memory) Clear() { m.Release(Mark{}) }

func takenBack[T any](list []T, to filled) []T {
	if cap(list) != to.room {
		return list[:0] // it was begun since
	}
	return list[:to.taken]
}

// withRoom is a list that has room for so many more: another one where it has not.
func withRoom[T any](list []T, count int) []T {
	if cap(list)-len(list) < count {
		return make([]T, 0, max(count, 2*cap(list)))
	}
	return list
}

// room is an empty list with room for so many, out of another one; and the other without it.
func room[T any](list []T, count int) (own, rest []T) {
	list = withRoom(list, count)
	at := len(list)
	return list[at : at : at+count], list[:at+count]
}

// partsFor is an empty list with room for so many parts.
func (m *Memory) partsFor(count int) (own []Part) {
	own, m.parts = room(m.parts, count)
	return own
}

// waysFor is the same of strips.
func (m *Memory) waysFor(count int) (own []Way) {
	own, m.ways = room(m.ways, count)
	return own
}

// lengthsOf is a list of lengths.
func (m *Memory) lengthsOf(lengths ...measure.Length) []measure.Length {
	own, rest := room(m.lengths, len(lengths))
	m.lengths = rest
	return append(own, lengths...)
}
