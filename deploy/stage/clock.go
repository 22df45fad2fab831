package stage

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// offBy is the variable that says by how much the clock of a program by BuildOff is wrong.
const offBy = "CLOCK_OFF_BY"

// OffBy is an entry of the environment for a program by BuildOff: a machine whose clock is so far ahead.
func OffBy(wrong time.Duration) string { return offBy + "=" + wrong.String() }

// readOff stands beside the standard library's clock in a program by BuildOff.
const readOff = `package time

import "syscall"

var offBySeconds = func() int64 {
	text, _ := syscall.Getenv("` + offBy + `")
	wrong, _ := ParseDuration(text)
	return int64(wrong / Second)
}()
`

// the line of time.Now that reads the machine's clocks: the one that is set, and the one that only runs, which stays right.
const readsClock = "	sec, nsec, mono := runtimeNow()\n"

// BuildOff builds the service from the very same source with a standard library whose time.Now is off by what the environment says, for
// all that is in the program, libraries too, as on a machine whose clock is wrong. The service has no such switch itself.
func BuildOff(ctx context.Context, program string) error {
	folder, err := os.MkdirTemp("", "seamwright-clock-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder) //nolint:errcheck // in the folder for what is temporary
	root, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("find the standard library: %w", err)
	}
	library := filepath.Join(strings.TrimSpace(string(root)), "src", "time")
	source, err := os.ReadFile(filepath.Join(library, "time.go"))
	if err != nil {
		return err
	}
	if bytes.Count(source, []byte(readsClock)) != 1 {
		return fmt.Errorf("time.Now in %s reads its clocks in another way than before: see BuildOff", library)
	}
	source = bytes.Replace(source, []byte(readsClock), []byte(readsClock+"	sec += offBySeconds\n"), 1)
	changed, added := filepath.Join(folder, "time.go"), filepath.Join(folder, "off.go")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(library, "time.go"): changed,
		filepath.Join(library, "zoff.go"): added}})
	if err != nil {
		return err
	}
	list := filepath.Join(folder, "overlay.json")
	for path, text := range map[string][]byte{changed: source, added: []byte(readOff), list: overlay} {
		if err := os.WriteFile(path, text, 0o600); err != nil {
			return err
		}
	}
	out, err := exec.CommandContext(ctx, "go", "build", "-trimpath", "-overlay", list, "-o", program, ".").CombinedOutput() //nolint:gosec // our own
	if err != nil {
		return fmt.Errorf("build the service with a wrong clock: %w: %s", err, out)
	}
	return nil
}
