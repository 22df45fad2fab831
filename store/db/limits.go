package db

import (
	"context"
	"maps"
	"strings"

	"github.com/jackc/pgx/v5"
)

// Settings are what a session asks of the server, by the server's names.
type Settings map[string]string

// wire is how a session whose other end has gone without a word is found out, by the server: a transaction of it would
// hold its locks for the two hours that a kernel waits by itself.
var wire = Settings{"tcp_keepalives_idle": "5s", "tcp_keepalives_interval": "3s", "tcp_keepalives_count": "3",
	"tcp_user_timeout": "15s"}

// The limits of sessions. A session that waits for longer is refused (see Away), so that one row which somebody holds
// does not take all connections of all instances away.
var (
	// ordinary sessions answer calls.
	ordinary = Settings{"lock_timeout": "4s", "statement_timeout": "15s", "idle_in_transaction_session_timeout": "10s"}
	// ForLists are the limits of what streams: rows come, or are taken, while one statement runs, as long as the whole may
	// take (web.Patience), and price lists of one supplier queue.
	ForLists = Settings{"lock_timeout": "60s", "statement_timeout": "16min", "idle_in_transaction_session_timeout": "60s"}
	// ForLoading are the limits of a session that reads the whole catalogue.
	ForLoading = Settings{"lock_timeout": "4s", "statement_timeout": "60s", "idle_in_transaction_session_timeout": "60s"}
	// ForMigrating are the limits of a session that changes the schema. What it waits for in front of a table, everybody
	// else waits for behind it: it gives up soon, and comes again (see Migrate). That is sooner than the second after which a
	// session looks whether it waits in a circle (deadlock_timeout), so that in a circle it is this one that gives way.
	ForMigrating = Settings{"lock_timeout": "700ms", "statement_timeout": "0", "idle_in_transaction_session_timeout": "5min"}
	// ForSeeding are the limits of a session that fills the tables of a new database: others who do so wait for it.
	ForSeeding = Settings{"lock_timeout": "60s", "statement_timeout": "0", "idle_in_transaction_session_timeout": "5min"}
)

// With is a copy of a connection's configuration with settings for everything that the database's URL left open.
func With(config *pgx.ConnConfig, all ...Settings) *pgx.ConnConfig {
	config = config.Copy()
	said := maps.Clone(config.RuntimeParams)
	for _, settings := range append(all, wire) {
		for name, value := range settings {
			if _, there := said[name]; !there && !strings.Contains(said["options"], name) {
				config.RuntimeParams[name] = value
			}
		}
	}
	return config
}

// Extend gives a transaction other limits than its session has, until it ends.
func Extend(ctx context.Context, tx pgx.Tx, settings Settings) error {
	batch := &pgx.Batch{}
	for name, value := range settings {
		batch.Queue(`SELECT set_config($1, $2, true)`, name, value)
	}
	return tx.SendBatch(ctx, batch).Close()
}
