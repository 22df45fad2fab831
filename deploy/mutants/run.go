package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// times is how much more processor time a run of tests may use with a mistake in the code than without. What needs more
// is held to be a loop without an end, which is a common mistake. Processor time does not depend on what else the machine
// does.
const times = 10

// memory bounds each run of tests, in KiB: a loop that no longer ends often fills a list.
const memory = 6 << 20

// verdict is what became of a mutant.
type verdict string

const (
	died      verdict = "died"
	endless   verdict = "died of its processor time"
	lived     verdict = "lived"
	unreached verdict = "lived, no test comes there"
	stopped   verdict = "stopped by the clock" // neither: reported, and not counted among the dead
	unviable  verdict = "does not compile"
)

// dead reports whether the tests noticed the mistake.
func (v verdict) dead() bool { return v == died || v == endless }

// execute runs some of a program's tests within the limits; usual is what they use without any change, 0 for no limit.
// They have a process group of their own, which is ended as a whole.
func (l *lab) execute(ctx context.Context, tests, binary string, number int, usual time.Duration, args ...string) (ran, error) {
	limited, cancel := context.WithTimeout(ctx, l.limit)
	defer cancel()
	limits := fmt.Sprintf("ulimit -v %d", memory)
	if usual > 0 {
		limits += fmt.Sprintf(" && ulimit -t %d", int(math.Ceil((times*usual + l.grace).Seconds())))
	}
	args = slices.Concat([]string{"-c", limits + ` && exec "$0" "$@"`, binary, "-test.failfast"}, l.rapid[tests], args)
	cmd := exec.CommandContext(limited, "sh", args...)
	cmd.Dir = filepath.Join(l.root, "service", filepath.FromSlash(tests))
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "UPDATE_GOLDEN=") })
	cmd.Env = append(cmd.Env, "TMPDIR="+l.dir, fmt.Sprintf("%s=%d", environment, number))
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.WaitDelay = 5 * time.Second
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	r := ran{verdict: lived, said: out.String()}
	if cmd.ProcessState != nil {
		r.used = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	switch exit := (*exec.ExitError)(nil); {
	case ctx.Err() != nil:
		return ran{}, ctx.Err()
	case limited.Err() != nil:
		r.verdict = stopped
	case cmd.ProcessState != nil && killed(cmd.ProcessState):
		r.verdict = endless
	case errors.As(err, &exit):
		r.verdict = died
	case err != nil:
		return ran{}, err
	}
	return r, nil
}

// ran is what became of a run of tests.
type ran struct {
	verdict
	said string
	used time.Duration // of processor time
}

// killed reports whether a process was ended from outside: here by the kernel, for its processor time.
func killed(state *os.ProcessState) bool {
	status, ok := state.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}
