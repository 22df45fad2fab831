// Package command is the command line: it reads the settings and wires the parts together; it reckons nothing.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"

	"github.com/spf13/pflag"

	"seamwright/openapi"
)

// Exit statuses, as callers rely on them.
const (
	exitDone    = 0
	exitRefused = 1 // the input was refused; the problem is printed
	exitUsage   = 2 // wrong use of the command line
	exitTrouble = 3 // the service or its database cannot work
)

const usage = `Seamwright estimates wide solid-wood tops that turn a corner.

  seamwright [flags]                  serve the HTTP API
  seamwright estimate FILE [--json] [--out DIR]
                                      estimate the request in FILE ("-": standard input) and print it; with --out
                                      also write its drawings, documents and tables
  seamwright prices FILE --supplier CODE [--list-date D] [--dry-run] [--json]
                                      load a supplier's price list (CSV, NDJSON or JSON, also .gz)
  seamwright keys add --name NAME (--scopes S,… | --publishable --origins O,…) [--days N]
  seamwright keys list | keys rotate ID [--overlap T] | keys revoke ID
                                      manage access keys
  seamwright migrate                  bring the database up to date and exit
  seamwright backup FILE              write the whole database into a new FILE (pg_dump's custom format)
  seamwright restore FILE [--no-migrate]
                                      put a backup into an empty database and bring it up to date; its webhooks are held

Exit status: 0 done, 1 refused, 2 wrong use, 3 the service or its database cannot work.

Flags, each with its environment variable:
`

// Run is the whole program: the service, or one of its commands. It returns the exit status.
func Run(ctx context.Context, args []string, lookup func(string) (string, bool), stdin io.Reader, stdout,
	stderr io.Writer) int {
	var s settings
	f := s.flags("seamwright")
	f.SetOutput(io.Discard)
	var o options
	o.flags(f)
	if err := fromEnvironment(f, lookup); err != nil {
		return say(stderr, exitUsage, err)
	}
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		fmt.Fprint(stdout, usage, help(f))
		return exitDone
	case err != nil:
		return say(stderr, exitUsage, err)
	}
	if o.version {
		fmt.Fprintf(stdout, "seamwright %s, revision %s, %s\n", openapi.Version(), build(), runtime.Version())
		return exitDone
	}
	if err := s.check(); err != nil {
		return say(stderr, exitUsage, err)
	}
	command := f.Args()
	if err := misplaced(f, command); err != nil {
		return say(stderr, exitUsage, err)
	}
	if len(command) > 0 && !f.Changed("log-level") && s.LogLevel == "info" {
		s.LogLevel = "warn" // who asks for one answer does not want to read how it came about
	}
	switch {
	case len(command) == 0:
		return serve(ctx, &s, stdout, stderr)
	case command[0] == "estimate" && len(command) == 2:
		return estimateFile(ctx, &s, command[1], &o, stdin, stdout, stderr)
	case command[0] == "prices" && len(command) == 2:
		return loadPrices(ctx, &s, command[1], &o, stdin, stdout, stderr)
	case command[0] == "keys":
		return manageKeys(ctx, &s, command[1:], &o.key, stdout, stderr)
	case command[0] == "migrate" && len(command) == 1:
		return migrate(ctx, &s, stdout, stderr)
	case command[0] == "backup" && len(command) == 2:
		return writeBackup(ctx, &s, command[1], stdout, stderr)
	case command[0] == "restore" && len(command) == 2:
		return restoreBackup(ctx, &s, command[1], &o, stdout, stderr)
	}
	return say(stderr, exitUsage, fmt.Errorf("%q is not a command; see --help", strings.Join(command, " ")))
}

// help lists the flags with their variables.
func help(f *pflag.FlagSet) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimRight(f.FlagUsages(), "\n"), "\n") {
		name, _, _ := strings.Cut(strings.TrimPrefix(strings.TrimSpace(line), "--"), " ")
		name, _, _ = strings.Cut(name, "[") // a flag without an argument shows its two values
		b.WriteString(line)
		if v := variables[name]; v != "" {
			b.WriteString(" [" + v + "]")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func say(w io.Writer, status int, err error) int {
	fmt.Fprintln(w, "seamwright:", err)
	return status
}
