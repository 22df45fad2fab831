package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// report is everything that was measured.
type report struct {
	options
	machine                   machine
	requestBytes, answerBytes int
	service, shell, floor     figures
	cold, warm                []time.Duration
	estimates                 []benchmark
}

// What the project asks of itself on two cores.
const (
	leastThroughput = 0.60 // of the floor's
	leastOfShell    = 0.60 // of its own HTTP work's; later 0.85
	mostP99         = 2.5  // of the floor's
	mostMemory      = 150  // MB, resident
	mostEstimate    = 100 * time.Microsecond
	mostCold        = 4 * time.Second
	mostWarm        = time.Second
)

// table is a head and rows of the same width.
type table [][]string

func (r report) write(out io.Writer, markdown bool) error {
	var b strings.Builder
	r.about(&b, markdown)
	for _, t := range []table{r.load(), r.targets()} {
		b.WriteString("\n")
		t.write(&b, markdown)
	}
	_, err := io.WriteString(out, b.String())
	return err
}

func (r report) about(b *strings.Builder, markdown bool) {
	m := r.machine
	mark := "  "
	if markdown {
		mark = "- "
	}
	for _, line := range []string{
		fmt.Sprintf("%d cores: %s; %s; %s; PostgreSQL %s", m.cores, m.processor, m.system, m.golang, m.postgres),
		fmt.Sprintf("load averages before the run: %s (the tool runs on the same cores)", m.busy),
		fmt.Sprintf("%s: %d connections, %d rounds of %d s each, in turns; request of %d bytes, answer of %d bytes", m.tool,
			r.connections, r.rounds, r.seconds, r.requestBytes, r.answerBytes),
		"throughput and CPU over all rounds, p50 and p99 the medians of the rounds, memory the highest since the start; the private PostgreSQL is idle and not counted",
	} {
		fmt.Fprintf(b, "%s%s\n", mark, line)
	}
}

// load compares the programs.
func (r report) load() table {
	t := table{{"", "requests/s", "p50 ms", "p99 ms", "CPU µs/request", "peak memory MB", "errors"}}
	for _, f := range []figures{r.service, r.shell, r.floor} {
		t = append(t, []string{
			f.name, fmt.Sprintf("%.0f", f.throughput()), milliseconds(f.p50()), milliseconds(f.p99()),
			fmt.Sprint(f.cpu().Microseconds()), fmt.Sprintf("%.0f", megabytes(f.peak)), "0",
		})
	}
	return t
}

// targets holds the figures against what was aimed at.
func (r report) targets() table {
	t := table{{"target", "aimed at", "measured", ""}}
	add := func(what, aim, got string, met bool) {
		verdict := "missed"
		if met {
			verdict = "met"
		}
		t = append(t, []string{what, aim, got, verdict})
	}
	share := r.service.throughput() / r.floor.throughput()
	add("throughput, service over floor", fmt.Sprintf("at least %.0f %%", 100*leastThroughput),
		fmt.Sprintf("%.0f %%", 100*share), share >= leastThroughput)
	own := r.service.throughput() / r.shell.throughput()
	add("throughput, service over its own HTTP work", fmt.Sprintf("at least %.0f %%", 100*leastOfShell),
		fmt.Sprintf("%.0f %%", 100*own), own >= leastOfShell)
	slower := float64(r.service.p99()) / float64(r.floor.p99())
	add("p99, service over floor", fmt.Sprintf("at most %.1f", mostP99), fmt.Sprintf("%.2f", slower), slower <= mostP99)
	add("resident memory of the service", fmt.Sprintf("under %d MB", mostMemory),
		fmt.Sprintf("%.0f MB", megabytes(r.service.peak)), megabytes(r.service.peak) < mostMemory)
	for _, e := range r.estimates {
		got := fmt.Sprintf("%.1f µs, %d allocations, %.1f kB", float64(e.each.Nanoseconds())/1000, e.allocations,
			float64(e.bytes)/1000)
		if e.name == "desk" {
			add("one estimate computed (two-run L)", fmt.Sprintf("under %.0f µs", float64(mostEstimate.Microseconds())), got,
				e.each < mostEstimate)
			continue
		}
		t = append(t, []string{fmt.Sprintf("one estimate computed (%s)", e.name), "none", got, ""})
	}
	add("first start, empty folder", fmt.Sprintf("under %.0f s", mostCold.Seconds()), startTimes(r.cold),
		slices.Max(r.cold) < mostCold)
	add("start again", fmt.Sprintf("under %.0f s", mostWarm.Seconds()), startTimes(r.warm), slices.Max(r.warm) < mostWarm)
	return t
}

func startTimes(all []time.Duration) string {
	return fmt.Sprintf("%.2f s (slowest of %d: %.2f s)", median(all).Seconds(), len(all), slices.Max(all).Seconds())
}

func milliseconds(d time.Duration) string { return fmt.Sprintf("%.2f", float64(d.Microseconds())/1000) }
func megabytes(n int64) float64           { return float64(n) / 1e6 }

// write writes the table in columns, or in Markdown.
func (t table) write(b *strings.Builder, markdown bool) {
	widths := make([]int, len(t[0]))
	for _, row := range t {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for n, row := range t {
		for i, cell := range row {
			if markdown {
				b.WriteString("| ")
			}
			fmt.Fprintf(b, "%-*s ", widths[i], cell)
		}
		if markdown {
			b.WriteString("|")
		}
		b.WriteString("\n")
		if markdown && n == 0 {
			b.WriteString(strings.Repeat("| --- ", len(row)) + "|\n")
		}
	}
}
