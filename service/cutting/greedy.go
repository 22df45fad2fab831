package cutting

// greedy makes a first plan: the longest piece left goes on the strip that, filled up with the
// longest pieces that fit, costs least for the length it uses. Strips of boards that are already
// bought cost nothing. It is written in the memory of another plan.
func greedy(j *job, skew float64, memory layout) layout {
	empty := layout{kinds: len(j.need), stock: memory.stock[:0], take: memory.take[:0]}
	return finish(j, empty, append([]int(nil), j.need...), skew)
}

// finish cuts what is left greedily, after the strips that lay already has. It spends left.
func finish(j *job, lay layout, left []int, skew float64) layout {
	n, stocks := len(left), len(j.room)
	var few [fewStocks + 2*smallKinds]int
	room := zeros(few[:0], stocks+2*n)
	free := room[:stocks]
	for _, s := range lay.stock {
		free[s]++
	}
	for s := range free {
		free[s] = (j.strips - free[s]%j.strips) % j.strips
	}
	try, best := room[stocks:stocks+n], room[stocks+n:]
	for t := 0; t < n; {
		if left[t] == 0 {
			t++
			continue
		}
		at, least := -1, 0.0
		for s := range j.room {
			if j.size[t] > j.room[s] {
				continue
			}
			used := pack(j, s, t, left, try)
			cost := float64(j.cost[s])
			if free[s] > 0 {
				cost = 0
			}
			rate := cost / (float64(used) + skew*float64(j.room[s]))
			if at < 0 || rate < least || rate == 0 && least == 0 && used > 0 {
				at, least = s, rate
				copy(best, try)
			}
		}
		if free[at] == 0 {
			free[at] = j.strips
		}
		free[at]--
		row := lay.add(at)
		for i, k := range best {
			row[i] = k
			left[i] -= k
		}
	}
	return lay
}

// pack fills a strip of stock s, longest pieces first from kind t on, and returns the length used.
func pack(j *job, s, t int, left, take []int) int64 {
	clear(take)
	room := j.room[s]
	for i := t; i < len(left); i++ {
		n := min(int64(left[i]), room/j.size[i])
		take[i] = int(n)
		room -= n * j.size[i]
	}
	return j.room[s] - room
}
