package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// pair is a primary and its standby, each on a socket of its own that nobody else reaches.
type pair struct {
	folder           string
	programs         string // folder of PostgreSQL's programs
	as               *syscall.Credential
	primary, standby *postgres
}

// postgres is one server.
type postgres struct {
	data, socket string
	cmd          *exec.Cmd
}

func (p *postgres) url() string { return "host=" + p.socket + " user=seamwright dbname=seamwright" }

// url names both: whoever can be written to is used.
func (p *pair) url() string {
	return "host=" + p.primary.socket + "," + p.standby.socket + " user=seamwright dbname=seamwright"
}

func newPair(folder string) (*pair, error) {
	p := &pair{folder: folder}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/postgres") // the pattern is right
	if path, err := exec.LookPath("postgres"); err == nil && len(found) == 0 {
		if path, err = filepath.EvalSymlinks(path); err != nil {
			return nil, err
		}
		found = append(found, path)
	}
	if len(found) == 0 {
		return nil, errors.New("PostgreSQL's server programs are not on this machine")
	}
	p.programs = filepath.Dir(found[len(found)-1])
	for _, server := range []struct {
		to   **postgres
		name string
	}{{&p.primary, "a"}, {&p.standby, "b"}} {
		*server.to = &postgres{data: filepath.Join(folder, server.name, "data"), socket: filepath.Join(folder, server.name)}
		if err := os.Mkdir((*server.to).socket, 0o700); err != nil {
			return nil, err
		}
	}
	return p, p.becomeSomebody()
}

// becomeSomebody finds an account for the servers: PostgreSQL does not run as root.
func (p *pair) becomeSomebody() error {
	if os.Geteuid() != 0 {
		return nil
	}
	account, err := user.Lookup("postgres")
	if err != nil {
		return fmt.Errorf("PostgreSQL does not run as root: %w", err)
	}
	uid, err := strconv.ParseUint(account.Uid, 10, 32)
	if err != nil {
		return err
	}
	gid, err := strconv.ParseUint(account.Gid, 10, 32)
	if err != nil {
		return err
	}
	p.as = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	for _, server := range []*postgres{p.primary, p.standby} {
		if err := os.Chown(server.socket, int(uid), int(gid)); err != nil { //nolint:gosec // an account's number
			return err
		}
	}
	return nil
}

func (p *pair) command(ctx context.Context, program string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, filepath.Join(p.programs, program), args...) //nolint:gosec // PostgreSQL's own
	cmd.Dir = p.folder
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: p.as, Pdeathsig: syscall.SIGQUIT}
	return cmd
}

func (p *pair) do(ctx context.Context, program string, args ...string) error {
	if out, err := p.command(ctx, program, args...).CombinedOutput(); err != nil {
		return fmt.Errorf("%s: %w: %.2000s", program, err, out)
	}
	return nil
}

// start makes the primary, copies the standby from it and lets it follow. From then on a commit waits for both.
func (p *pair) start(ctx context.Context) error {
	if err := p.do(ctx, "initdb", "--pgdata", p.primary.data, "--username", "seamwright", "--auth", "trust", "--encoding", "UTF8",
		"--locale", "C.UTF-8", "--no-sync"); err != nil {
		return err
	}
	if err := p.run(p.primary); err != nil {
		return err
	}
	if err := p.ask(ctx, p.primary, "postgres", `CREATE DATABASE seamwright`); err != nil {
		return err
	}
	if err := p.do(ctx, "pg_basebackup", "--pgdata", p.standby.data, "--checkpoint", "fast", "--write-recovery-conf", "--no-sync",
		"--dbname", "host="+p.primary.socket+" user=seamwright application_name=standby"); err != nil {
		return err
	}
	if err := p.run(p.standby); err != nil {
		return err
	}
	for _, statement := range []string{`ALTER SYSTEM SET synchronous_standby_names = 'standby'`, `SELECT pg_reload_conf()`} {
		if err := p.ask(ctx, p.primary, "postgres", statement); err != nil {
			return err
		}
	}
	return nil
}

// run starts a server and waits until it can be read from.
func (p *pair) run(server *postgres) error {
	server.cmd = p.command(context.Background(), "postgres", "-D", server.data, "-k", server.socket, "-c", "listen_addresses=",
		"-c", "max_connections=60")
	log, err := os.Create(server.socket + ".log")
	if err != nil {
		return err
	}
	defer log.Close() // the server has its own
	server.cmd.Stdout, server.cmd.Stderr = log, log
	if err := server.cmd.Start(); err != nil {
		return err
	}
	var last error
	for range 600 {
		conn, err := pgx.Connect(context.Background(), "host="+server.socket+" user=seamwright dbname=postgres")
		if err == nil {
			return conn.Close(context.Background())
		}
		last = err
		time.Sleep(100 * time.Millisecond)
	}
	said, _ := os.ReadFile(server.socket + ".log") // what it said helps, if there is anything
	return fmt.Errorf("a server does not start: %w: %.2000s", last, said)
}

func (p *pair) ask(ctx context.Context, server *postgres, database, statement string) error {
	conn, err := pgx.Connect(ctx, "host="+server.socket+" user=seamwright dbname="+database)
	if err != nil {
		return err
	}
	defer conn.Close(ctx) //nolint:errcheck // what counts was asked
	_, err = conn.Exec(ctx, statement)
	return err
}

// killPrimary ends the primary as a crash does: no process of it gets a word in.
func (p *pair) killPrimary() error {
	processes, err := children(p.primary.cmd.Process.Pid)
	if err != nil {
		return err
	}
	for _, pid := range append(processes, p.primary.cmd.Process.Pid) {
		_ = syscall.Kill(pid, syscall.SIGKILL) // it may have ended
	}
	_ = p.primary.cmd.Wait() // killed
	p.primary.cmd = nil
	return nil
}

// children are the processes of one, as Linux lists them.
func children(pid int) (all []int, err error) {
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/children", pid))
	if err != nil || len(threads) == 0 {
		return nil, errors.Join(err, errors.New("the primary has no processes"))
	}
	for _, file := range threads {
		raw, err := os.ReadFile(file) //nolint:gosec // the kernel's
		if err != nil {
			return nil, err
		}
		for _, field := range strings.Fields(string(raw)) {
			if child, err := strconv.Atoi(field); err == nil {
				all = append(all, child)
			}
		}
	}
	return all, nil
}

// promote tells the standby to take over.
func (p *pair) promote(ctx context.Context) error {
	// It takes nobody with it that a commit would wait for: the setting came after the copy was made.
	return p.ask(ctx, p.standby, "postgres", `SELECT pg_promote()`)
}

// end ends whatever runs.
func (p *pair) end() {
	for _, server := range []*postgres{p.primary, p.standby} {
		if server.cmd != nil && server.cmd.Process != nil {
			_ = server.cmd.Process.Signal(syscall.SIGQUIT) // it may have ended
			_ = server.cmd.Wait()
		}
	}
}
