package storetest

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"strings"
	"time"

	"seamwright/store/pgserver"

	"github.com/jackc/pgx/v5/pgxpool"
)

// serverVariable names the server to test on.
const serverVariable = "SEAMWRIGHT_TEST_DATABASE_URL"

// patience bounds one step: starting a server, making the pristine database, cloning it.
const patience = 2 * time.Minute

// throwaway are settings for data that need not survive a power cut. Autovacuum would sit on the
// pristine database now and then and hold up its cloning.
var throwaway = map[string]string{
	"fsync":              "off",
	"full_page_writes":   "off",
	"synchronous_commit": "off",
	"autovacuum":         "off",
	"max_connections":    "200",
	"shared_buffers":     "32MB",
	"max_wal_size":       "128MB",
	"min_wal_size":       "32MB",
}

// cluster is a server to make test databases on.
type cluster struct {
	admin    string        // connection string of the administrator
	base     string        // connection string of the tests' role, to any database
	owner    string        // role that owns the test databases; empty for the administrator's own
	private  string        // data folder of a private server; empty for a named one
	pool     *pgxpool.Pool // the administrator's connections
	pristine string        // name of the database to clone
	strategy string        // how to clone it, where there is a choice
}

const serverVersion = `SELECT current_setting('server_version_num')::int`

// openCluster connects to the named server, or starts a private one when none is named.
func openCluster(ctx context.Context, named string) (*cluster, error) {
	c := &cluster{admin: named, base: named}
	if named == "" {
		s, err := startPrivate(ctx)
		if err != nil {
			return nil, err
		}
		c = &cluster{admin: s.AdminURL(), base: s.URL(), owner: "seamwright", private: s.DataDir()}
	}
	config, err := pgxpool.ParseConfig(c.admin)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", serverVariable, err)
	}
	config.MaxConns = 4
	if c.pool, err = pgxpool.NewWithConfig(ctx, config); err != nil {
		return nil, fmt.Errorf("%s: %w", serverVariable, err)
	}
	var version int
	if err := c.pool.QueryRow(ctx, serverVersion).Scan(&version); err != nil {
		return nil, fmt.Errorf("%s: %w", serverVariable, err)
	}
	if version >= 150000 {
		c.strategy = " STRATEGY file_copy"
	}
	return c, nil
}

// startPrivate starts a server in the first free folder. It runs until this process ends. A folder
// that does not start, after a change of PostgreSQL's version for one, is made anew.
func startPrivate(ctx context.Context) (*pgserver.Server, error) {
	dir, err := lockFolder()
	if err != nil {
		return nil, err
	}
	options := pgserver.Options{DataDir: dir, Settings: throwaway,
		Log: slog.New(slog.NewTextHandler(os.Stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))}
	s, err := pgserver.Start(ctx, options)
	if err == nil || errors.Is(err, pgserver.ErrNoBinaries) || errors.Is(err, pgserver.ErrInUse) || ctx.Err() != nil {
		return s, err
	}
	if removing := os.RemoveAll(dir); removing != nil {
		return nil, errors.Join(err, removing)
	}
	return pgserver.Start(ctx, options)
}

// url is the connection string of one database for the tests' role.
func (c *cluster) url(database string) string {
	if !strings.Contains(c.base, "://") {
		return c.base + " dbname=" + database // of keywords the last one counts
	}
	u, err := url.Parse(c.base)
	if err != nil {
		panic(err) // it has been used to connect
	}
	u.Path = "/" + database
	q := u.Query()
	q.Del("dbname")
	q.Del("database")
	u.RawQuery = strings.ReplaceAll(q.Encode(), "+", "%20")
	return u.String()
}
