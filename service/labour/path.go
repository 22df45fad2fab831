package labour

// span is a step on the clock, in hundredths of a minute. Whole numbers make equal chains equal.
type span struct {
	work, wait int64
	onePass    bool  // not to be interrupted by a night
	start      int64 // soonest, when nothing but its predecessors holds it
	latest     int64 // latest end of work and wait that delays nothing
	done       int64 // end of work and wait in the schedule; -1: not yet done
}

// criticalPath marks the steps on a longest chain of work and waits, and returns the chain's length. Working
// hours and the size of the team do not count: it is what no number of people can shorten. Steps are in the order
// of their numbers, and so each behind those it follows.
func criticalPath(steps []Step, spans []span) int64 {
	var total int64
	for i := range spans {
		s := &spans[i]
		for _, p := range steps[i].After {
			s.start = max(s.start, spans[p-1].end())
		}
		total = max(total, s.end())
	}
	for i := range spans {
		spans[i].latest = total
	}
	for i := len(spans) - 1; i >= 0; i-- {
		s := &spans[i]
		steps[i].Critical = s.latest == s.end()
		for _, p := range steps[i].After {
			before := &spans[p-1]
			before.latest = min(before.latest, s.latest-s.work-s.wait)
		}
	}
	return total
}

func (s *span) end() int64 { return s.start + s.work + s.wait }
