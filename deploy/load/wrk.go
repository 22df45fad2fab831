package main

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// findWrk returns the load tool. One written here would spend the processor time that it is to measure: wrk needs a
// fraction of what a client in Go does.
func findWrk() (string, error) {
	path, err := exec.LookPath("wrk")
	if err != nil {
		return "", errors.New("wrk is not in PATH; install it (Debian, Ubuntu: apt-get install wrk)")
	}
	return path, nil
}

// round is what one round under load showed.
type round struct {
	requests int64
	took     time.Duration
	bytes    int64 // received, headers included
	p50, p99 time.Duration
	failures int64         // connections, reads, writes, time-outs, and answers that are not 2xx or 3xx
	cpu      time.Duration // processor time of the program under load
}

// load runs the tool once against a program.
func (b *bench) load(ctx context.Context, p *program, seconds int) (round, error) {
	before, err := cpuTime(p.cmd.Process.Pid)
	if err != nil {
		return round{}, err
	}
	cmd := exec.CommandContext(ctx, b.wrk, "--threads", "2", "--connections", strconv.Itoa(b.connections), "--duration",
		strconv.Itoa(seconds)+"s",
		"--timeout", "5s", "--script", filepath.Join(b.module, "deploy", "load", "post.lua"), p.url+path)
	cmd.Env = environment("LOAD_BODY="+b.request, "LOAD_KEY="+p.key)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return round{}, fmt.Errorf("wrk: %w: %s", err, out)
	}
	r, err := parseWrk(string(out))
	if err != nil {
		return r, err
	}
	after, err := cpuTime(p.cmd.Process.Pid)
	r.cpu = after - before
	if err == nil {
		err = sound(r, p.size)
	}
	return r, err
}

// sound refuses a round with errors, or with answers of another size than the one that was looked at.
func sound(r round, size int) error {
	const headers = 1000 // bytes that they stay under; the answer is about 45,000
	switch {
	case r.failures > 0:
		return fmt.Errorf("%d of %d requests failed", r.failures, r.requests)
	case r.requests == 0:
		return errors.New("no request was answered")
	case r.bytes/r.requests < int64(size)*98/100 || r.bytes/r.requests > int64(size)*102/100+headers:
		return fmt.Errorf("answers have %d bytes on average, not about %d", r.bytes/r.requests, size)
	}
	return nil
}

var figure = regexp.MustCompile(`([a-z0-9]+)=(\d+)`)

// parseWrk reads the line that post.lua prints. The tool reckons latencies in microseconds.
func parseWrk(out string) (round, error) {
	_, line, found := strings.Cut(out, "RESULT ")
	figures := map[string]int64{}
	for _, f := range figure.FindAllStringSubmatch(line, -1) {
		figures[f[1]], _ = strconv.ParseInt(f[2], 10, 64) // digits; too many become the largest number
	}
	if !found || len(figures) != 11 {
		return round{}, fmt.Errorf("wrk printed no result: %s", out)
	}
	return round{
		requests: figures["requests"], took: time.Duration(figures["microseconds"]) * time.Microsecond,
		bytes: figures["bytes"],
		p50:   time.Duration(figures["p50"]) * time.Microsecond, p99: time.Duration(figures["p99"]) * time.Microsecond,
		failures: figures["connect"] + figures["read"] + figures["write"] + figures["status"] + figures["timeout"],
	}, nil
}
