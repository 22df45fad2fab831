// Package stage is what the drills with real processes under deploy share: a folder, the service built, an access key, processes
// that serve, callers who go on until they are told to rest, and what the database kept of what they were promised.
package stage

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"

	"github.com/jackc/pgx/v5"
)

// Main runs a drill until it has ended or is interrupted, and ends the process with 1 where it failed.
func Main(name string, run func(ctx context.Context, args []string) error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	err := run(ctx, os.Args[1:])
	stop()
	if err != nil {
		fmt.Fprintf(os.Stderr, "%s: %v\n", name, err)
		os.Exit(1)
	}
}

// InFolder does something in a folder of its own, which is gone afterwards. The database's account gets through it.
func InFolder(name string, do func(folder string) error) (err error) {
	folder, err := os.MkdirTemp("", "seamwright-"+name+"-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	if err := os.Chmod(folder, 0o711); err != nil { //nolint:gosec // the database's account must get through
		return err
	}
	return do(folder)
}

// Build builds the service; the working folder is the project's.
func Build(ctx context.Context, program string) error {
	out, err := exec.CommandContext(ctx, "go", "build", "-trimpath", "-o", program, ".").CombinedOutput() //nolint:gosec // our own
	if err != nil {
		return fmt.Errorf("build the service (in the project's folder): %w: %s", err, out)
	}
	return nil
}

// Key makes an access key with these scopes, apart by commas.
func Key(ctx context.Context, program, databaseURL, name, scopes string) (string, error) {
	out, err := exec.CommandContext(ctx, program, "keys", "add", "--name", name, "--database-url", databaseURL, "--scopes", scopes).Output()
	if err != nil {
		return "", fmt.Errorf("make a key: %w", err)
	}
	key, _, _ := strings.Cut(string(out), "\n")
	return key, nil
}

// Number is a number that the database tells.
func Number(ctx context.Context, databaseURL, query string) (n int64, err error) {
	conn, err := pgx.Connect(ctx, databaseURL)
	if err != nil {
		return 0, err
	}
	defer conn.Close(ctx) //nolint:errcheck // what counts was read
	err = conn.QueryRow(ctx, query).Scan(&n)
	return n, err
}
