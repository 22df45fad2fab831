package command

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// bare is what a command is told on a machine without PostgreSQL: PATH has none of its programs, nor have the folders of
// packages.
func bare(t *testing.T, args ...string) *settings {
	t.Helper()
	t.Setenv("PATH", t.TempDir())
	s := new(settings)
	var f *pflag.FlagSet = s.flags("seamwright")
	require.NoError(t, f.Parse(append([]string{"--data-dir", filepath.Join(t.TempDir(), "data"), "--log-level", "error"}, args...)))
	require.NoError(t, s.check())
	s.serverPlaces = []string{}
	return s
}

// The main job is done without PostgreSQL, by the catalogue that comes with the program: the answer is that of a new database but
// for the assumption that says so.
func TestAnEstimateIsMadeWithoutPostgreSQL(t *testing.T) {
	var out, errs bytes.Buffer
	status := estimateFile(context.Background(), bare(t), desk, &options{asJSON: true}, nil, &out, &errs)
	require.Equal(t, exitDone, status, errs.String())
	require.Contains(t, errs.String(), "invented demo data")
	require.Contains(t, errs.String(), "apt-get install postgresql")

	const demo = `,{"pointer":"","value":"built_in_catalogue","why":"There is no database: prices, rates and times are invented demo data that come with the program, no shop's own, and nothing is kept."}]`
	require.Equal(t, 1, strings.Count(out.String(), demo))
	code, want, errors := call(t, "", "estimate", desk, "--json", "--database-url", storetest.New(t))
	require.Equal(t, exitDone, code, errors)
	require.Equal(t, want, strings.Replace(out.String(), demo, "]", 1))

	out.Reset()
	require.Equal(t, exitDone, estimateFile(context.Background(), bare(t), desk, &options{out: filepath.Join(t.TempDir(), "desk")}, nil, &out, &errs))
	require.Contains(t, out.String(), "5608.31 USD")
}

// With a database named, or with one kept in the data folder, nobody gets demo prices for their own.
func TestDemoPricesNeverStandInForAShopsOwn(t *testing.T) {
	var out, errs bytes.Buffer
	named := bare(t, "--database-url", "postgres://127.0.0.1:1/none?connect_timeout=1")
	require.Equal(t, exitTrouble, estimateFile(context.Background(), named, desk, &options{}, nil, &out, &errs))
	kept := bare(t)
	require.NoError(t, os.MkdirAll(filepath.Join(kept.DataDir, "data"), 0o700))
	cluster := filepath.Join(kept.DataDir, "data", "PG_VERSION")
	require.NoError(t, os.WriteFile(cluster, []byte("15\n"), 0o600))
	require.Equal(t, exitTrouble, estimateFile(context.Background(), kept, desk, &options{}, nil, &out, &errs))
	chosen := bare(t, "--postgres-bin", t.TempDir())
	require.Equal(t, exitTrouble, estimateFile(context.Background(), chosen, desk, &options{}, nil, &out, &errs))
	open := bare(t, "--listen", "0.0.0.0:0")
	require.Equal(t, exitTrouble, serve(context.Background(), open, &out, &errs))
	require.Contains(t, errs.String(), "only a loopback address")
	require.Empty(t, out.String())
	require.Equal(t, exitTrouble, manageKeys(context.Background(), bare(t), []string{"list"}, &keyOptions{}, &out, &errs))
}

// The service without PostgreSQL: it computes, says that it is degraded, and refuses whatever stores with what to install.
func TestTheServiceRunsWithoutPostgreSQL(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	said, tell := io.Pipe()
	var errs bytes.Buffer
	ended := make(chan int, 1)
	settings := bare(t, "--listen", "127.0.0.1:0")
	go func() { ended <- serve(ctx, settings, tell, &errs) }()
	line := make([]byte, 500)
	n, err := said.Read(line)
	require.NoError(t, err)
	require.Contains(t, string(line[:n]), "DEMO PRICES")
	base := regexp.MustCompile(`http://[0-9.:]+`).FindString(string(line[:n]))

	ask := func(method, path, body string) (int, map[string]any) {
		r, err := http.NewRequestWithContext(ctx, method, base+path, strings.NewReader(body))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/json")
		a, err := (&http.Client{Timeout: 20 * time.Second}).Do(r)
		require.NoError(t, err)
		defer func() { require.NoError(t, a.Body.Close()) }()
		var tree map[string]any
		require.NoError(t, json.NewDecoder(a.Body).Decode(&tree), path)
		return a.StatusCode, tree
	}
	status, ready := ask(http.MethodGet, "/readyz", "")
	require.Equal(t, http.StatusOK, status)
	require.Equal(t, "degraded", ready["status"])
	request, err := os.ReadFile(desk)
	require.NoError(t, err)
	for _, path := range []string{"/v1/estimates", "/v1/joint-comparisons"} {
		status, answer := ask(http.MethodPost, path, string(request))
		require.Equal(t, http.StatusOK, status, answer)
		all := answer["assumptions"].([]any)
		require.Equal(t, "built_in_catalogue", all[len(all)-1].(map[string]any)["value"], path)
	}
	status, species := ask(http.MethodGet, "/v1/species?limit=2", "")
	require.Equal(t, http.StatusOK, status)
	require.Len(t, species["items"], 2)
	status, form := ask(http.MethodGet, "/v1/order-form?units=in", "")
	require.Equal(t, http.StatusOK, status, form)
	for _, c := range [][3]string{{"POST", "/v1/quotes", `{"estimate":` + string(request) + `}`}, {"GET", "/v1/quotes", ""}, {"GET", "/v1/keys", ""},
		{"PUT", "/v1/labour-roles/maker", `{"name":"Maker","rate":"60.00"}`}, {"GET", "/v1/price-updates", ""}, {"GET", "/v1/audit-entries", ""}} {
		status, refused := ask(c[0], c[1], c[2])
		require.Equal(t, http.StatusServiceUnavailable, status, c)
		require.Contains(t, refused["detail"], "apt-get install postgresql", c)
	}
	cancel()
	require.Equal(t, exitDone, <-ended, errs.String())
	require.Contains(t, errs.String(), "invented demo data")
}
