package backup

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
)

// alsoSaid are the words of a database's URL beside its address that the programs must hear of, with their variables
// (PostgreSQL documentation, "libpq: Environment Variables").
var alsoSaid = map[string]string{"sslmode": "PGSSLMODE", "sslrootcert": "PGSSLROOTCERT", "sslcert": "PGSSLCERT",
	"sslkey": "PGSSLKEY", "sslnegotiation": "PGSSLNEGOTIATION", "channel_binding": "PGCHANNELBINDING"}

// environment says to PostgreSQL's programs where the database is. Variables are read by this user alone, where
// arguments are read by everybody on the machine, and a URL of ours has words that these programs refuse.
func environment(config *pgx.ConnConfig, text string) []string {
	hosts, ports := []string{config.Host}, []string{strconv.Itoa(int(config.Port))}
	for _, other := range config.Fallbacks { // the same place may stand there with and without TLS
		host, port := other.Host, strconv.Itoa(int(other.Port))
		if host != hosts[len(hosts)-1] || port != ports[len(ports)-1] {
			hosts, ports = append(hosts, host), append(ports, port)
		}
	}
	env := append(os.Environ(), "PGHOST="+strings.Join(hosts, ","), "PGPORT="+strings.Join(ports, ","),
		"PGUSER="+config.User, "PGPASSWORD="+config.Password, "PGDATABASE="+config.Database, "PGOPTIONS=",
		"PGCONNECT_TIMEOUT="+strconv.Itoa(max(int(config.ConnectTimeout.Seconds()), 2)))
	if len(hosts) > 1 {
		env = append(env, "PGTARGETSESSIONATTRS=read-write")
	}
	words := said(text)
	for word, variable := range alsoSaid {
		if v := words[word]; v != "" {
			env = append(env, variable+"="+v)
		}
	}
	return env
}

// pair is a word and its value in key=value text.
var pair = regexp.MustCompile(`(\w+)\s*=\s*('(?:[^'\\]|\\.)*'|\S+)`)

// said reads the words of a URL or of key=value text that stand beside the address.
func said(text string) map[string]string {
	words := map[string]string{}
	if u, err := url.Parse(text); err == nil && strings.HasPrefix(u.Scheme, "postgres") {
		for word, values := range u.Query() {
			words[word] = values[0]
		}
		return words
	}
	for _, m := range pair.FindAllStringSubmatch(text, -1) {
		words[m[1]] = strings.NewReplacer(`\\`, `\`, `\'`, `'`).Replace(strings.Trim(m[2], "'"))
	}
	return words
}

// run runs a program to its end. Its error has what the program said.
func run(ctx context.Context, cmd *exec.Cmd) error {
	var words bytes.Buffer
	cmd.Stderr = &words
	return explain(ctx, cmd, cmd.Run(), &words)
}

func explain(ctx context.Context, cmd *exec.Cmd, err error, words *bytes.Buffer) error {
	if err == nil {
		return nil
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	lines := strings.Split(strings.TrimSpace(words.String()), "\n")
	lines = lines[:min(len(lines), 5)] // the first says why
	return fmt.Errorf("%s: %w: %s", filepath.Base(cmd.Path), err, strings.Join(lines, "\n"))
}
