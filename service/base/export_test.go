package base

import "seamwright/service/measure"

// Lay is a line in memory of its own.
func Lay(parts []Part, from, to, depth measure.Length, seam [2]bool) Line {
	return new(Memory).Lay(parts, from, to, depth, seam)
}

// Strips are told in memory of their own.
func (l *Line) Strips(s *Slab) []Way { return l.StripsIn(new(Memory), s) }
