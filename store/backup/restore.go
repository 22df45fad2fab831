package backup

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os/exec"
	"regexp"
	"strings"

	"seamwright/service/fault"
	"seamwright/store/hooks"
)

// Held is what a restored copy does not send unasked.
type Held struct {
	Endpoints  int // that were switched off
	Deliveries int // that were still to be sent, and are dead now
}

// ourTable is a line of a backup's list of contents: the table that isOurs goes by.
var ourTable = regexp.MustCompile(`(?m) TABLE public webhook_delivery `)

// Restore puts a backup into an empty database and holds its webhooks (hooks.Hold), all in one transaction: nobody sees a
// part of it, and no service can send before they are held. It fails with a Fault of the kind Conflict when the database
// is not empty, and of the kind Invalid when the file is no backup of this service or is not whole; then nothing has
// changed.
func Restore(ctx context.Context, into Source, file string) (held Held, err error) {
	empty, programs, env, err := into.open(ctx, isEmpty)
	switch {
	case err != nil:
		return held, err
	case !empty:
		return held, &fault.Fault{Kind: fault.Conflict,
			Detail: "The database is not empty, and a backup never goes over what is there.",
			Fix:    "Name a new --data-dir, or the URL of a database that was just made."}
	}
	list, err := exec.CommandContext(ctx, programs.Restore, "--list", file).CombinedOutput()
	switch {
	case ctx.Err() != nil:
		return held, ctx.Err()
	case err != nil:
		return held, unreadable(file, list)
	case !ourTable.Match(list):
		return held, &fault.Fault{Kind: fault.Invalid,
			Detail: file + " is a backup of another program's database, or older than any release."}
	}
	script := exec.CommandContext(ctx, programs.Script, "--no-psqlrc", "--quiet", "--no-align", "--tuples-only",
		"--no-password", "--set=ON_ERROR_STOP=1")
	var out, words bytes.Buffer
	script.Env, script.Stdout, script.Stderr = env, &out, &words
	in, err := script.StdinPipe()
	if err != nil {
		return held, err
	}
	if err := script.Start(); err != nil {
		return held, err
	}
	writing := write(ctx, in, programs.Restore, file)
	_ = in.Close() // without a COMMIT before it, all is undone; the program's own end says whether it was heard
	if err := explain(ctx, script, script.Wait(), &words); err != nil && writing.bad == nil {
		return held, err
	}
	switch {
	case writing.bad != nil:
		return held, writing.bad
	case writing.err != nil:
		return held, writing.err
	}
	lines := strings.Fields(out.String())
	if len(lines) == 0 {
		return held, fmt.Errorf("%s said nothing of what is held", script.Path)
	}
	_, err = fmt.Sscanf(lines[len(lines)-1], "%d|%d", &held.Endpoints, &held.Deliveries)
	return held, err
}

// written is what became of writing the script: bad when the backup is the reason.
type written struct{ bad, err error }

// write writes the backup as SQL, in a transaction that ends by holding the webhooks. It says COMMIT only when the backup
// was read to its end.
func write(ctx context.Context, in io.Writer, program, file string) written {
	if _, err := io.WriteString(in, "BEGIN;\n"); err != nil {
		return written{err: err}
	}
	var words bytes.Buffer
	cmd := exec.CommandContext(ctx, program, "--no-owner", "--no-acl", "--file=-", file)
	cmd.Stderr = &words
	text, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return written{err: err}
	}
	_, copying := io.Copy(in, text)
	if copying != nil { // the other side has ended, and says why
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		return written{err: copying}
	}
	if err := cmd.Wait(); err != nil {
		if ctx.Err() != nil {
			return written{err: ctx.Err()}
		}
		return written{bad: unreadable(file, words.Bytes())}
	}
	// The script has emptied the search path. Figures for the planner come after, as they would with time.
	_, err = io.WriteString(in, "\nRESET search_path;\n"+hooks.Hold+";\nCOMMIT;\nANALYZE;\n")
	return written{err: err}
}

func unreadable(file string, said []byte) error {
	first, _, _ := strings.Cut(strings.TrimSpace(string(said)), "\n")
	return &fault.Fault{Kind: fault.Invalid, Detail: file + " cannot be read as a backup: " + first}
}
