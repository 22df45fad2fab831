package main

import (
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// measured is a report whose service is at half the floor's throughput and at twice its p99.
func measured() report {
	ms := time.Millisecond
	return report{
		options: options{seconds: 5, rounds: 3, connections: 32},
		service: figures{name: "service", peak: 149_000_000, rounds: []round{
			{requests: 100, took: time.Second, p50: 3 * ms, p99: 20 * ms, cpu: 20 * ms},
			{requests: 300, took: time.Second, p50: 1 * ms, p99: 90 * ms, cpu: 60 * ms},
			{requests: 200, took: time.Second, p50: 2 * ms, p99: 10 * ms, cpu: 40 * ms},
		}},
		floor: figures{name: "floor", peak: 30_000_000, rounds: []round{
			{requests: 400, took: time.Second, p50: ms, p99: 10 * ms, cpu: 40 * ms},
		}},
		shell: figures{name: "its HTTP work", peak: 40_000_000, rounds: []round{
			{requests: 250, took: time.Second, p50: ms, p99: 10 * ms, cpu: 40 * ms},
		}},
		cold:      []time.Duration{time.Second, 5 * time.Second, time.Second},
		warm:      []time.Duration{100 * ms, 200 * ms, 300 * ms},
		estimates: []benchmark{{"desk", 99 * time.Microsecond, 1000, 10}},
	}
}

func TestRoundsAreAddedUpAndPercentilesAreMedians(t *testing.T) {
	t.Parallel()
	service := measured().service
	require.InDelta(t, 200, service.throughput(), 1e-9)
	require.Equal(t, 200*time.Microsecond, service.cpu())
	require.Equal(t, 2*time.Millisecond, service.p50())
	require.Equal(t, 20*time.Millisecond, service.p99())
}

func TestTargetsAreHeldAgainstTheFigures(t *testing.T) {
	t.Parallel()
	var got []string
	for _, row := range measured().targets()[1:] {
		got = append(got, row[0]+": "+row[2]+": "+row[3])
	}
	require.Equal(t, []string{
		"throughput, service over floor: 50 %: missed",
		"throughput, service over its own HTTP work: 80 %: met",
		"p99, service over floor: 2.00: met",
		"resident memory of the service: 149 MB: met",
		"one estimate computed (two-run L): 99.0 µs, 10 allocations, 1.0 kB: met",
		"first start, empty folder: 1.00 s (slowest of 3: 5.00 s): missed",
		"start again: 0.20 s (slowest of 3: 0.30 s): met",
	}, got)
}

func TestTheReportIsPlainTextOrMarkdown(t *testing.T) {
	t.Parallel()
	var plain, marked strings.Builder
	require.NoError(t, measured().write(&plain, false))
	require.NoError(t, measured().write(&marked, true))
	require.Contains(t, plain.String(), "service       200")
	require.NotContains(t, plain.String(), "|")
	require.Contains(t, marked.String(), "| --- | --- | --- | --- | --- | --- | --- |\n| service       | 200")
}

func TestTheCommandLineIsChecked(t *testing.T) {
	t.Parallel()
	o, err := parse([]string{"--seconds", "2", "--rounds=3", "--connections", "8", "--request", "x.json", "--markdown"},
		io.Discard)
	require.NoError(t, err)
	require.Equal(t, options{seconds: 2, rounds: 3, connections: 8, request: "x.json", markdown: true}, o)
	for _, wrong := range [][]string{{"--seconds", "0"}, {"--rounds", "-1"}, {"--connections", "1"}, {"stray"},
		{"--nonsense"}} {
		_, err := parse(wrong, io.Discard)
		require.Error(t, err, wrong)
	}
}
