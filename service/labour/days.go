package labour

// clockDay is a day on the clock in hundredths of a minute.
const clockDay = 24 * 6000

// bench is one team that works a number of hours (in hundredths of a minute) from the start of each day, the days
// back to back. The rest of a day is night: nobody works, glue and finish go on drying.
type bench struct{ day int64 }

// start returns when work that could begin at t does begin: in working time, and an uninterrupted pass that fits
// into a day but no more into this one on the next day.
func (b bench) start(t, work int64, onePass bool) int64 {
	left := b.day - t%clockDay
	if left <= 0 || onePass && work > left && work <= b.day {
		return t - t%clockDay + clockDay
	}
	return t
}

// end returns when work begun at t, in working time, is done; it may run over nights.
func (b bench) end(t, work int64) int64 {
	left := b.day - t%clockDay
	if work <= left {
		return t + work
	}
	work -= left
	nights := 1 + (work-1)/b.day
	return t - t%clockDay + nights*clockDay + work - (nights-1)*b.day
}

// schedule gives each step its day and returns how many days pass until the last wait's end; a wait that ends in
// the night belongs to the day before. The team does one step at a time without leaving it: always the one that
// can start soonest among those whose predecessors are done and have waited, and of several the one with the
// lowest number. While something dries, the team so does what else is ready.
func (b bench) schedule(steps []Step, spans []span) int {
	for i := range spans {
		spans[i].done = -1
	}
	var now, last int64
	for first := range spans {
		for spans[first].done < 0 {
			i, at := b.next(steps, spans, first, now)
			steps[i].Day = int(at/clockDay) + 1
			now = b.end(at, spans[i].work)
			spans[i].done = now + spans[i].wait
			last = max(last, spans[i].done)
		}
	}
	return int((last + clockDay - 1) / clockDay)
}

// next returns which step, from first on, can start soonest, and when.
func (b bench) next(steps []Step, spans []span, first int, now int64) (step int, at int64) {
	step = -1
	for i := first; i < len(spans) && (step < 0 || at > now); i++ {
		if spans[i].done >= 0 {
			continue
		}
		ready, ok := readyAt(steps[i].After, spans)
		if !ok {
			continue
		}
		if t := b.start(max(now, ready), spans[i].work, spans[i].onePass); step < 0 || t < at {
			step, at = i, t
		}
	}
	return step, at
}

// readyAt returns when all of the steps have ended; ok is false while one of them is not done.
func readyAt(after []int, spans []span) (at int64, ok bool) {
	for _, p := range after {
		if spans[p-1].done < 0 {
			return 0, false
		}
		at = max(at, spans[p-1].done)
	}
	return at, true
}
