package main

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"seamwright/deploy/faults/line"
	drill "seamwright/deploy/stage"
	"seamwright/store/pgserver"
)

// stage is a PostgreSQL and two instances of the service on it, each over a line of its own.
type stage struct {
	options  *options
	folder   string
	server   *pgserver.Server
	database *pgxpool.Pool // of who counts: beside the lines
	program  string
	key      string
	both     [2]*instance
	number   int // of references, so that each is used once
}

func open(ctx context.Context, o *options) (_ *stage, err error) {
	s := &stage{options: o}
	if s.folder, err = os.MkdirTemp("", "seamwright-faults-"); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			s.close()
		}
	}()
	if err := os.Chmod(s.folder, 0o755); err != nil { //nolint:gosec // the database's own user must get in
		return nil, err
	}
	s.program = filepath.Join(s.folder, "seamwright")
	if err := drill.Build(ctx, s.program); err != nil {
		return nil, err
	}
	data := filepath.Join(s.folder, "database")
	if s.server, err = pgserver.Start(ctx, pgserver.Options{DataDir: data, Log: slog.New(slog.DiscardHandler),
		Settings: map[string]string{"max_connections": "60"}}); err != nil {
		return nil, err
	}
	if s.database, err = pgxpool.New(ctx, s.server.URL()); err != nil {
		return nil, err
	}
	for i := range s.both {
		if s.both[i], err = s.newInstance(ctx, string(rune('A'+i))); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// newInstance starts an instance over a new line.
func (s *stage) newInstance(ctx context.Context, name string) (*instance, error) {
	config, err := pgx.ParseConfig(s.server.URL())
	if err != nil {
		return nil, err
	}
	l, err := line.ToDatabase(config.Host, config.Port)
	if err != nil {
		return nil, err
	}
	address, err := drill.FreeAddress()
	if err != nil {
		return nil, err
	}
	i := &instance{name: name, program: s.program, line: l, address: address,
		client: &http.Client{Timeout: tooSlow, Transport: &http.Transport{MaxIdleConnsPerHost: 64}},
		url: fmt.Sprintf("host=127.0.0.1 port=%s user=%s password='%s' dbname=%s sslmode=disable", l.Port(), config.User,
			config.Password, config.Database)}
	if s.key == "" {
		s.key, err = drill.Key(ctx, s.program, i.url, "faults",
			"estimate,catalogue:read,catalogue:write,prices:write,quotes:read,quotes:write,keys:admin")
		if err != nil {
			return nil, err
		}
	}
	i.key = s.key
	return i, i.start(ctx)
}

func (s *stage) close() {
	for _, i := range s.both {
		if i != nil {
			i.kill()
			i.line.Cut()
		}
	}
	if s.database != nil {
		s.database.Close()
	}
	if s.server != nil {
		soon, cancel := context.WithTimeout(context.Background(), 20*time.Second)
		defer cancel()
		if err := s.server.Stop(soon); err != nil {
			fmt.Fprintln(os.Stderr, "faults: stop the database:", err)
		}
	}
	if err := os.RemoveAll(s.folder); err != nil {
		fmt.Fprintln(os.Stderr, "faults:", err)
	}
}

// healthy makes the lines good and waits until both instances are ready.
func (s *stage) healthy(ctx context.Context) error {
	for _, i := range s.both {
		if err := i.line.Mend(); err != nil {
			return err
		}
		if _, err := i.until(ctx, "ready", time.Minute); err != nil {
			return err
		}
	}
	return nil
}

// count is a number that the database tells.
func (s *stage) count(ctx context.Context, r *report, sql string, args ...any) (n int) {
	var err error
	for range 50 { // it may be starting
		if err = s.database.QueryRow(ctx, sql, args...).Scan(&n); err == nil {
			return n
		}
		time.Sleep(200 * time.Millisecond)
	}
	r.broken("counting failed: %v", err)
	return -1
}

// reference is a name that nobody had before.
func (s *stage) reference(what string) string {
	s.number++
	return fmt.Sprintf("%s %d", what, s.number)
}

// postmaster is the process of the server that all others of it come from.
func (s *stage) postmaster() (pid int, err error) {
	text, err := os.ReadFile(filepath.Join(s.server.DataDir(), "data", "postmaster.pid"))
	if err != nil {
		return 0, err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	return strconv.Atoi(first)
}

// signal sends a signal to the server, with all its processes or alone.
func (s *stage) signal(what syscall.Signal, all bool) error {
	pid, err := s.postmaster()
	if err != nil {
		return err
	}
	pids := []int{pid}
	if all {
		pids = append(pids, children(pid)...)
	}
	for _, one := range pids {
		if err := syscall.Kill(one, what); err != nil && one == pid {
			return fmt.Errorf("signal the database: %w", err)
		}
	}
	return nil
}

// children are the processes that a process started (Linux).
func children(of int) (pids []int) {
	all, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		return nil
	}
	for _, path := range all {
		text, err := os.ReadFile(path)
		if err != nil {
			continue // it has ended
		}
		_, rest, _ := strings.Cut(string(text), ") ")
		if fields := strings.Fields(rest); len(fields) > 1 && fields[1] == strconv.Itoa(of) {
			if pid, err := strconv.Atoi(filepath.Base(filepath.Dir(path))); err == nil {
				pids = append(pids, pid)
			}
		}
	}
	return pids
}
