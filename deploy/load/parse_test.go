package main

import (
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestProcessorTimeIsUserAndSystemTime(t *testing.T) {
	t.Parallel()
	// The layout is that of proc_pid_stat(5); the name of the program is an awkward one.
	took, err := parseStat("4711 (a b) R (c) S 1 4711 4711 0 -1 4194560 1000 0 3 0 1234 66 7 8 20 0 9 0 5000 1 2 3")
	require.NoError(t, err)
	require.Equal(t, 13*time.Second, took)
	_, err = parseStat("4711 (short) S 1")
	require.Error(t, err)
}

func TestPeakMemoryIsInUnitsOf1024Bytes(t *testing.T) {
	t.Parallel()
	peak, err := parsePeak("Name:\tservice\nVmHWM:\t   58620 kB\nVmRSS:\t   40000 kB\n")
	require.NoError(t, err)
	require.Equal(t, int64(58620*1024), peak)
	_, err = parsePeak("Name:\tservice\n")
	require.Error(t, err)
}

func TestThisProcessHasUsedTimeAndMemory(t *testing.T) {
	t.Parallel()
	before, err := cpuTime(os.Getpid())
	require.NoError(t, err)
	spent := spentTime(t) // by another way of asking; on a busy machine a loop of so long may hardly have run
	for spentTime(t) < spent+60*time.Millisecond {
		continue
	}
	const lost = 2 * time.Second / ticksPerSecond // user's and system's time are cut to a tick, each
	low := spentTime(t)
	after, err := cpuTime(os.Getpid())
	require.NoError(t, err)
	require.GreaterOrEqual(t, after, low-lost)
	require.LessOrEqual(t, after, spentTime(t))
	require.GreaterOrEqual(t, after-before, 60*time.Millisecond-lost)
	peak, err := peakMemory(os.Getpid())
	require.NoError(t, err)
	require.Greater(t, peak, int64(1<<20))
}

// spentTime is the processor time of this process as getrusage(2) tells it.
func spentTime(t testing.TB) time.Duration {
	t.Helper()
	var u syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

const wrkSays = `Running 5s test @ http://127.0.0.1:1/v1/estimates
  2 threads and 32 connections
Requests/sec:   4000.00
RESULT requests=20000 microseconds=5010000 bytes=906000000 p50=6000 p99=21500 max=90000 connect=0 read=1 write=0 status=2 timeout=3
`

func TestARoundIsReadFromTheToolsResult(t *testing.T) {
	t.Parallel()
	got, err := parseWrk(wrkSays)
	require.NoError(t, err)
	require.Equal(t, round{
		requests: 20000, took: 5010 * time.Millisecond, bytes: 906000000,
		p50: 6 * time.Millisecond, p99: 21500 * time.Microsecond, failures: 6,
	}, got)
	_, err = parseWrk("unable to connect to 127.0.0.1:1 Connection refused")
	require.ErrorContains(t, err, "Connection refused")
}

func TestARoundWithFailuresOrOtherAnswersIsRefused(t *testing.T) {
	t.Parallel()
	const size = 45000
	good := round{requests: 100, bytes: 100 * 45200}
	require.NoError(t, sound(good, size))
	for name, wrong := range map[string]round{
		"an answer failed":         {requests: 100, bytes: good.bytes, failures: 1},
		"nothing was answered":     {},
		"answers are much shorter": {requests: 100, bytes: 100 * 300},
		"answers are much longer":  {requests: 100, bytes: 100 * 60000},
	} {
		require.Error(t, sound(wrong, size), name)
	}
}

const goTestSays = `goos: linux
BenchmarkMake/desk-2         	    6518	    180000 ns/op	  140177 B/op	     709 allocs/op
BenchmarkMake/bar-2          	    5000	     99000.5 ns/op	  130000 B/op	     700 allocs/op
BenchmarkMake/desk-2         	    6518	    160000 ns/op	  140177 B/op	     709 allocs/op
BenchmarkMake/desk-2         	    6518	    900000 ns/op	  140177 B/op	     709 allocs/op
PASS
`

func TestBenchmarksAreTheMediansOfTheirRuns(t *testing.T) {
	t.Parallel()
	got, err := parseBenchmark(goTestSays)
	require.NoError(t, err)
	require.Equal(t, []benchmark{{"bar", 99 * time.Microsecond, 130000, 700},
		{"desk", 180 * time.Microsecond, 140177, 709}}, got)
	_, err = parseBenchmark("PASS\n")
	require.Error(t, err)
}
