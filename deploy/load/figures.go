package main

import (
	"cmp"
	"errors"
	"regexp"
	"slices"
	"strconv"
	"time"
)

// figures are what the rounds of one program showed.
type figures struct {
	name   string
	rounds []round
	peak   int64 // bytes
}

// throughput is that of all rounds together, in requests a second.
func (f figures) throughput() float64 {
	var requests int64
	var took time.Duration
	for _, r := range f.rounds {
		requests, took = requests+r.requests, took+r.took
	}
	return float64(requests) / took.Seconds()
}

// cpu is the processor time of one request, over all rounds.
func (f figures) cpu() time.Duration {
	var requests int64
	var cpu time.Duration
	for _, r := range f.rounds {
		requests, cpu = requests+r.requests, cpu+r.cpu
	}
	return cpu / time.Duration(requests)
}

// p50 and p99 are the medians of what the rounds showed.
func (f figures) p50() time.Duration {
	return median(pick(f.rounds, func(r round) time.Duration { return r.p50 }))
}
func (f figures) p99() time.Duration {
	return median(pick(f.rounds, func(r round) time.Duration { return r.p99 }))
}

func pick[T any](rounds []round, of func(round) T) []T {
	var all []T
	for _, r := range rounds {
		all = append(all, of(r))
	}
	return all
}

// median returns the middle one, the lower of two.
func median[T cmp.Ordered](all []T) T {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[(len(sorted)-1)/2]
}

// benchmark is one Go benchmark.
type benchmark struct {
	name        string
	each        time.Duration
	bytes       int64
	allocations int64
}

var benchmarkLine = regexp.MustCompile(`(?m)^BenchmarkMake/(\S+?)(?:-\d+)?\s+\d+\s+([\d.]+) ns/op\s+(\d+) B/op\s+(\d+) allocs/op`)

// parseBenchmark reads what go test printed: for each benchmark the median of its runs.
func parseBenchmark(out string) ([]benchmark, error) {
	runs := map[string][]benchmark{}
	for _, found := range benchmarkLine.FindAllStringSubmatch(out, -1) {
		nanoseconds, err := strconv.ParseFloat(found[2], 64)
		if err != nil {
			return nil, err
		}
		bytes, _ := strconv.ParseInt(found[3], 10, 64)       // digits
		allocations, _ := strconv.ParseInt(found[4], 10, 64) // digits
		runs[found[1]] = append(runs[found[1]], benchmark{found[1], time.Duration(nanoseconds), bytes, allocations})
	}
	if len(runs) == 0 {
		return nil, errors.New("go test printed no benchmark: " + out)
	}
	var all []benchmark
	for _, of := range runs {
		slices.SortFunc(of, func(a, b benchmark) int { return cmp.Compare(a.each, b.each) })
		all = append(all, of[(len(of)-1)/2])
	}
	slices.SortFunc(all, func(a, b benchmark) int { return cmp.Compare(a.name, b.name) })
	return all, nil
}
