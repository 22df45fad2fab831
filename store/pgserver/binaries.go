package pgserver

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// binaryPatterns are the folders of server programs that packages leave out of PATH.
var binaryPatterns = []string{
	"/usr/lib/postgresql/*/bin", // Debian, Ubuntu
	"/usr/pgsql-*/bin",          // Fedora and kin, the project's own packages
	"/usr/lib/postgresql*/bin",  // openSUSE
	"/usr/libexec/postgresql*",  // Alpine
	"/usr/local/pgsql/bin",      // built from source
	"/opt/homebrew/opt/postgresql*/bin",
	"/usr/local/opt/postgresql*/bin",
	"/home/linuxbrew/.linuxbrew/opt/postgresql*/bin",
	"/opt/local/lib/postgresql*/bin", // MacPorts
	"/Applications/Postgres.app/Contents/Versions/*/bin",
}

// binaries is a folder with the server programs, and their version.
type binaries struct {
	dir   string
	major string // "15"
}

func (b binaries) postgres() string { return filepath.Join(b.dir, "postgres") }
func (b binaries) initdb() string   { return filepath.Join(b.dir, "initdb") }

// findBinaries gives the first programs that the folder's account can run and that fit its cluster:
// those of dir alone when it is named, otherwise those in PATH, then in the known folders, the newest
// first. It also finds out that the account cannot reach the data folder.
func findBinaries(ctx context.Context, dir string, f folder, patterns []string) (binaries, error) {
	want, err := f.clusterVersion()
	if err != nil {
		return binaries{}, err
	}
	places := []string{dir}
	if dir == "" {
		places = binaryFolders(os.Getenv("PATH"), patterns)
	}
	var seen []string
	var failed error
	for _, place := range places {
		b := binaries{dir: place}
		if !b.complete() {
			continue
		}
		b.major, err = b.version(ctx, f)
		switch {
		case ctx.Err() != nil:
			return binaries{}, ctx.Err()
		case errors.Is(err, ErrFolder):
			return binaries{}, err
		case err != nil:
			failed = errors.Join(failed, err)
			continue
		}
		if want == "" || b.major == want {
			return b, nil
		}
		seen = append(seen, b.major+" in "+place)
	}
	switch {
	case len(seen) > 0:
		return binaries{}, fmt.Errorf("%w: %s was made by version %s, and there is %s. Install PostgreSQL %s, or name another folder with --data-dir",
			ErrVersion, f.cluster(), want, strings.Join(seen, ", "), want)
	case failed != nil:
		return binaries{}, fmt.Errorf("%w (those that are here do not run: %w)", ErrNoBinaries, failed)
	}
	err = fmt.Errorf("%w (looked in %s)", ErrNoBinaries, strings.Join(places, ", "))
	if want == "" && dir == "" {
		err = nothing{err}
	}
	return binaries{}, err
}

// binaryFolders lists where server programs may be, in the order of preference, each folder once.
func binaryFolders(path string, patterns []string) []string {
	var places []string
	add := func(dir string) {
		if filepath.IsAbs(dir) && !slices.Contains(places, dir) {
			places = append(places, dir)
		}
	}
	for _, dir := range filepath.SplitList(path) {
		add(filepath.Clean(dir))
	}
	for _, pattern := range patterns {
		found, err := filepath.Glob(pattern)
		if err != nil {
			panic(err) // only for a malformed pattern, and those are written above
		}
		slices.SortStableFunc(found, func(a, b string) int { return numberIn(b) - numberIn(a) })
		for _, dir := range found {
			add(dir)
		}
	}
	return places
}

var number = regexp.MustCompile(`[0-9]+`)

// numberIn is the first number in a path: the version, in the folders we look at.
func numberIn(path string) int {
	n, err := strconv.Atoi(number.FindString(path))
	if err != nil {
		return 0 // a path without a version comes last
	}
	return n
}

func (b binaries) complete() bool { return !missing(b.postgres()) && !missing(b.initdb()) }

// missing tells whether there is no program of that name.
func missing(program string) bool {
	info, err := os.Stat(program)
	return err != nil || info.IsDir() || info.Mode()&0o111 == 0
}

// version asks the server program, run as the account in the data folder, for its major version.
func (b binaries) version(ctx context.Context, f folder) (string, error) {
	out, err := b.askVersion(ctx, f, f.path)
	if errors.Is(err, fs.ErrPermission) {
		if _, again := b.askVersion(ctx, f, "/"); again == nil {
			return "", f.unreachable()
		}
	}
	if err != nil {
		return "", fmt.Errorf("%s --version: %w", b.postgres(), err)
	}
	_, after, ok := strings.Cut(string(out), "(PostgreSQL) ")
	major := number.FindString(after)
	if !ok || !strings.HasPrefix(after, major) || major == "" {
		return "", fmt.Errorf("%s --version says %q, which names no version of PostgreSQL", b.postgres(), out)
	}
	return major, nil
}

func (b binaries) askVersion(ctx context.Context, f folder, workDir string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, b.postgres(), "--version")
	cmd.Dir = workDir
	cmd.Env = environment()
	cmd.SysProcAttr = f.account.attributes(0)
	return cmd.Output()
}

// unreachable explains that the account cannot get to the data folder.
func (f folder) unreachable() error {
	at, mode := f.account.barrier(f.path)
	return fmt.Errorf("%w: the server cannot run as root and runs as %s, who may not enter %s (%s) on the way to %s: choose another folder with --data-dir, or chmod o+x %s",
		ErrFolder, f.account.name, at, mode, f.path, at)
}
