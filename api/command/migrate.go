package command

import (
	"context"
	"fmt"
	"io"

	"seamwright/store"
)

// migrate brings the database up to date.
func migrate(ctx context.Context, s *settings, stdout, stderr io.Writer) int {
	url, what, end, err := database(ctx, s, s.logger(stderr), true)
	defer end()
	if err == nil {
		err = store.Prepare(ctx, url)
	}
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	fmt.Fprintf(stdout, "%s is up to date\n", what)
	return exitDone
}
