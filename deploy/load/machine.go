package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/store/pgserver"
)

// machine is what the figures were taken on.
type machine struct {
	processor string
	cores     int
	system    string
	golang    string
	postgres  string
	tool      string
	busy      string // load averages before the run
}

const unknown = "unknown"

func machineOf(ctx context.Context, b *bench) machine {
	m := machine{processor: unknown, cores: runtime.NumCPU(), system: unknown, golang: unknown, postgres: unknown,
		tool: "wrk", busy: unknown}
	if raw, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		if _, rest, found := strings.Cut(string(raw), "model name"); found {
			line, _, _ := strings.Cut(rest, "\n")
			m.processor = strings.TrimLeft(line, "\t: ")
		}
	}
	if raw, err := os.ReadFile("/proc/sys/kernel/osrelease"); err == nil {
		m.system = "Linux " + strings.TrimSpace(string(raw))
	}
	if raw, err := os.ReadFile("/proc/loadavg"); err == nil {
		m.busy = strings.Join(strings.Fields(string(raw))[:3], " ")
	}
	if version, err := output(ctx, b.module, "go", "env", "GOVERSION"); err == nil {
		m.golang = version
	}
	out, _ := exec.CommandContext(ctx, b.wrk, "-v").CombinedOutput() // prints its version and ends with 1
	if first := strings.Fields(string(out)); len(first) > 1 {
		m.tool = strings.Join(first[:2], " ")
	}
	return m
}

// postgresVersion asks the service's own server.
func (b *bench) postgresVersion(ctx context.Context) string {
	url, running, err := pgserver.Running(b.file("start-0"))
	if err != nil || !running {
		return fmt.Sprint("not found: ", err)
	}
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return "not reached: " + err.Error()
	}
	defer conn.Close(ctx) //nolint:errcheck // the version is what counts
	var version string
	if err := conn.QueryRow(ctx, "SHOW server_version").Scan(&version); err != nil {
		return "not told: " + err.Error()
	}
	return version
}
