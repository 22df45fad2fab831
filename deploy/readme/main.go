// Readme follows the README word for word: it starts the service on an empty folder, runs every block of commands in their order in
// one shell, and holds what they print against what the README shows below them. A call that is refused, a figure that has
// become another, a block of which none of this can be said (it stands in left) and a page that is not sound end it with
// status 1.
//
//	go run ./deploy/readme
//
// It needs bash, curl and jq, and PostgreSQL's programs.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	ctx, cancel := context.WithTimeout(ctx, 10*time.Minute)
	status := 0
	if err := run(ctx, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "readme:", err)
		status = 1
	}
	cancel()
	stop()
	os.Exit(status)
}

func run(ctx context.Context, out io.Writer) (err error) {
	raw, err := os.ReadFile("README.md")
	if err != nil {
		return err
	}
	blocks, err := read(string(raw))
	if err != nil {
		return err
	}
	s, err := start(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.end()) }()
	var wrong []error
	for i := range blocks {
		b := &blocks[i]
		switch why := b.left(); {
		case b.language == "csv":
			err = s.write("list.csv", b.text)
		case b.language != "sh":
			continue
		case why != "":
			fmt.Fprintf(out, "line %d is left: %s\n", b.line, why)
			continue
		default:
			err = s.follow(ctx, b, blocks[i+1:], out)
		}
		if err != nil {
			wrong = append(wrong, fmt.Errorf("README.md, line %d: %w", b.line, err))
		}
	}
	return errors.Join(wrong...)
}

// follow runs a block, and compares what it prints with the block that shows it.
func (s *session) follow(ctx context.Context, b *block, behind []block, out io.Writer) error {
	printed, err := s.shell(ctx, b.text)
	if err != nil {
		return fmt.Errorf("%w\n%s", err, clipped(printed))
	}
	shown := shownBelow(b, behind)
	switch {
	case shown == nil:
		fmt.Fprintf(out, "line %d runs\n", b.line)
		return nil
	case shown.other() != "":
		fmt.Fprintf(out, "line %d runs; what is shown is another's: %s\n", b.line, shown.other())
		return nil
	}
	facts := shown.facts()
	if len(facts) == 0 {
		return fmt.Errorf("nothing can be compared in line %d", shown.line)
	}
	var missing []string
	text := squeezed(printed)
	for _, f := range facts {
		if !strings.Contains(text, f) {
			missing = append(missing, f)
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("shown, but not said: %s\n%s", strings.Join(missing, "  "), clipped(printed))
	}
	fmt.Fprintf(out, "line %d runs, and %d things are as shown\n", b.line, len(facts))
	return nil
}

func clipped(text string) string {
	if len(text) > 3000 {
		return text[:3000] + " …"
	}
	return text
}
