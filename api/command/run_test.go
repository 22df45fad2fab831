package command

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"log/slog"
	"net"
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

func noVariables(string) (string, bool) { return "", false }

// call runs the program to its end and returns its exit status and what it printed.
func call(t *testing.T, stdin string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	var out, errs bytes.Buffer
	status = Run(ctx, args, noVariables, strings.NewReader(stdin), &out, &errs)
	return status, out.String(), errs.String()
}

const desk = "../../testdata/requests/l_desk.json"

func TestEstimateCommandPrintsASummaryOrTheAnswer(t *testing.T) {
	url := storetest.New(t)
	status, out, errs := call(t, "", "estimate", desk, "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	for _, part := range []string{"Harbour studio corner desk", "Corner A–B, 90°", "► mason's miter, A", "To buy",
		"Labour", "Price", "Take care", "Sources"} {
		require.Contains(t, out, part)
	}
	require.Empty(t, errs, "nothing is logged beside the answer")

	raw, err := os.ReadFile(desk)
	require.NoError(t, err)
	status, out, errs = call(t, string(raw), "estimate", "-", "--json", "--explain", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, `"workings"`)
}

func TestEveryRequestOfTheProjectIsAnswered(t *testing.T) {
	url := storetest.New(t)
	files, err := filepath.Glob("../../testdata/requests/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	for _, file := range files {
		status, out, errs := call(t, "", "estimate", file, "--database-url", url)
		require.Equal(t, exitDone, status, "%s: %s", file, errs)
		require.Contains(t, out, "invented order", "demo orders say that they are")
	}
}

func TestEstimateCommandSaysWhyItRefuses(t *testing.T) {
	url := storetest.New(t)
	for name, c := range map[string]struct{ body, says string }{
		"malformed": {`{"units":`, "JSON"},
		"impossible": {`{"units":"in","top":{"species":"maple_suger","thickness":1,"runs":[{"length":60,"depth":20}]}}`,
			"maple_sugar"},
	} {
		status, out, errs := call(t, c.body, "estimate", "-", "--database-url", url)
		require.Equal(t, exitRefused, status, name)
		require.Empty(t, out, name)
		require.Contains(t, errs, c.says, name)
	}
}

func TestWrongUseAndTroubleHaveTheirOwnStatus(t *testing.T) {
	for _, args := range [][]string{{"sing"}, {"estimate"}, {"estimate", "no such file"}, {"--no-such-flag"},
		{"--listen", "nonsense"},
		{"--no-auth", "--listen", "0.0.0.0:8080"}, {"--log-level", "loud"}, {"--log-format", "xml"},
		{"--memory-limit", "1"}} {
		status, _, errs := call(t, "", args...)
		require.Equal(t, exitUsage, status, "%v: %s", args, errs)
		require.NotEmpty(t, errs)
	}
	status, _, errs := call(t, "", "estimate", desk, "--database-url",
		"postgres://nobody@127.0.0.1:1/none?connect_timeout=2")
	require.Equal(t, exitTrouble, status)
	require.NotContains(t, errs, "goroutine")
}

func TestHelpNamesEverySettingAndItsVariable(t *testing.T) {
	status, out, _ := call(t, "", "--help")
	require.Equal(t, exitDone, status)
	for flag, variable := range variables {
		require.Regexp(t, `--`+flag+`\b.*\[`+variable+`\]`, out)
	}
}

// The README's table of settings is the program's.
func TestREADMEListsTheSettings(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	listed := map[string][2]string{}
	for _, m := range regexp.MustCompile("(?m)^\\| `--([a-z-]+)` \\| `([A-Z_]+)` \\| ([^|]+) \\|").FindAllStringSubmatch(string(readme), -1) {
		listed[m[1]] = [2]string{m[2], strings.Trim(m[3], "`")}
	}
	var s settings
	f := s.flags("seamwright")
	count := 0
	f.VisitAll(func(flag *pflag.Flag) {
		count++
		require.Equal(t, variables[flag.Name], listed[flag.Name][0], flag.Name)
		if flag.DefValue != "" {
			require.Equal(t, flag.DefValue, listed[flag.Name][1], flag.Name)
		}
	})
	require.Len(t, listed, count)
}

func TestAFlagGoesOverItsVariable(t *testing.T) {
	env := map[string]string{"SEAMWRIGHT_LISTEN": "127.0.0.1:1", "SEAMWRIGHT_LOG_LEVEL": "error"}
	var s settings
	f := s.flags("seamwright")
	require.NoError(t, fromEnvironment(f, func(k string) (string, bool) { v, ok := env[k]; return v, ok }))
	require.NoError(t, f.Parse([]string{"--listen", "127.0.0.1:2"}))
	require.Equal(t, "127.0.0.1:2", s.Listen)
	require.Equal(t, "error", s.LogLevel)
	require.Error(t, fromEnvironment(s.flags("again"), func(string) (string, bool) { return "many", true }))
}

// The whole service on a private database: it says where it serves, answers, lets the command line use its database, and stops clean.
func TestServeOnAPrivateDatabase(t *testing.T) {
	dir := storetest.Folder(t)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	read, write := io.Pipe()
	var errs bytes.Buffer
	ended := make(chan int, 1)
	go func() {
		ended <- Run(ctx, []string{"--listen", "127.0.0.1:0", "--no-auth", "--data-dir", dir, "--log-level", "error"},
			noVariables, nil, write, &errs)
		write.Close()
	}()
	line, err := bufio.NewReader(read).ReadString('\n')
	require.NoError(t, err, errs.String())
	base := regexp.MustCompile(`http://[0-9.:]+`).FindString(line)
	require.NotEmpty(t, base, line)

	body, err := os.Open(desk)
	require.NoError(t, err)
	defer body.Close()
	answer, err := http.Post(base+"/v1/estimates", "application/json", body)
	require.NoError(t, err)
	answer.Body.Close()
	require.Equal(t, http.StatusOK, answer.StatusCode)

	status, _, beside := call(t, "", "estimate", desk, "--data-dir", dir)
	require.Equal(t, exitDone, status, "the command line beside the server: %s", beside)
	status, _, second := call(t, "", "--listen", "127.0.0.1:0", "--data-dir", dir)
	require.Equal(t, exitTrouble, status, "a second server on the same folder is refused")
	require.Contains(t, second, "in use")

	cancel()
	require.Equal(t, exitDone, <-ended, errs.String())
	require.Empty(t, errs.String())
}

// A request in flight is answered after the stop signal; new connections are not taken.
func TestStoppingLetsRequestsFinish(t *testing.T) {
	arrived, release := make(chan struct{}), make(chan struct{})
	handler := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		close(arrived)
		<-release
		_, _ = io.WriteString(w, "done") // what arrives is checked by the client
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ended := make(chan int, 1)
	server := serveOn(listener, handler, slog.New(slog.DiscardHandler))
	type reply struct {
		text string
		err  error
	}
	replies := make(chan reply, 1)
	go func() {
		r, err := http.Get("http://" + listener.Addr().String())
		if err != nil {
			replies <- reply{err: err}
			return
		}
		defer r.Body.Close()
		text, err := io.ReadAll(r.Body)
		replies <- reply{string(text), err}
	}()
	<-arrived
	go func() { ended <- server.stop(10*time.Second, slog.New(slog.DiscardHandler)) }()
	require.Eventually(t, func() bool {
		_, err := net.DialTimeout("tcp", listener.Addr().String(), time.Second)
		return err != nil
	}, 5*time.Second, 10*time.Millisecond, "no new connections")
	close(release)
	got := <-replies
	require.NoError(t, got.err)
	require.Equal(t, "done", got.text)
	require.Equal(t, exitDone, <-ended)
}

// serveUntil serves on a free port until the test stops it, and returns what it printed.
func serveUntil(t *testing.T, use func(address string, out string), args ...string) (status int, out string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	reader, writer := io.Pipe()
	ended := make(chan int, 1)
	go func() {
		ended <- Run(ctx, append([]string{"--listen", "127.0.0.1:0"}, args...), noVariables, strings.NewReader(""), writer,
			io.Discard)
		writer.Close()
	}()
	var text strings.Builder
	lines := bufio.NewScanner(reader)
	for lines.Scan() {
		text.WriteString(lines.Text() + "\n")
		if m := regexp.MustCompile(`serves on http://(\S+)`).FindStringSubmatch(lines.Text()); m != nil {
			use(m[1], text.String())
			cancel()
		}
	}
	return <-ended, text.String()
}

func TestTheFirstStartPrintsOneKeyThatWorks(t *testing.T) {
	url, folder := storetest.New(t), t.TempDir()
	key := ""
	status, _ := serveUntil(t, func(address, out string) {
		require.NotContains(t, out, "seam_secret_", "what a service prints is kept in journals for good")
		m := regexp.MustCompile(`export KEY=\$\(cat ([^)]+)\)`).FindStringSubmatch(out)
		require.NotNil(t, m, out)
		require.Equal(t, filepath.Join(folder, "first-key"), m[1])
		info, err := os.Stat(m[1])
		require.NoError(t, err)
		require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
		text, err := os.ReadFile(m[1])
		require.NoError(t, err)
		key = strings.TrimSpace(string(text))
		require.Contains(t, out, "curl -s http://"+address+"/v1/estimates")
		require.Equal(t, http.StatusOK, species(t, address, key))
		require.Equal(t, http.StatusUnauthorized, species(t, address, ""))
	}, "--database-url", url, "--data-dir", folder)
	require.Equal(t, exitDone, status)

	status, out := serveUntil(t, func(address, _ string) {
		require.Equal(t, http.StatusOK, species(t, address, key), "the key outlives a restart")
	}, "--database-url", url)
	require.Equal(t, exitDone, status)
	require.NotContains(t, out, "seam_secret_", "it is shown once")

	status, listed, errs := call(t, "", "keys", "list", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, listed, "first key")
	require.NotContains(t, listed, key)
	require.Regexp(t, `first key .* `+time.Now().Format("2006-01")+`-\d\d +never`, listed,
		"its use was written down when the service stopped")
}

func species(t *testing.T, address, key string) int {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, "http://"+address+"/v1/species?limit=1", nil)
	require.NoError(t, err)
	if key != "" {
		r.Header.Set("Authorization", "Bearer "+key)
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	answer.Body.Close()
	return answer.StatusCode
}

func TestKeysAreKeptFromTheCommandLine(t *testing.T) {
	url := storetest.New(t)
	status, out, errs := call(t, "", "keys", "add", "--name", "form", "--publishable", "--origins", "https://shop.example",
		"--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "seam_public_")
	status, out, errs = call(t, "", "keys", "add", "--name", "quoting", "--scopes", "estimate,quotes:read", "--days", "30",
		"--database-url", url)
	require.Equal(t, exitDone, status, errs)
	id := regexp.MustCompile(`key (\S+) \(quoting\)`).FindStringSubmatch(out)[1]
	status, out, errs = call(t, "", "keys", "rotate", id, "--overlap", "1h", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "seam_secret_")
	status, _, errs = call(t, "", "keys", "rotate", id, "--database-url", url)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "rotated already")
	status, _, errs = call(t, "", "keys", "revoke", id, "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	status, out, _ = call(t, "", "keys", "list", "--database-url", url)
	require.Equal(t, exitDone, status)
	require.Regexp(t, id+` .*revoked`, out)
	for _, wrong := range [][]string{{"keys", "add", "--name", "x"}, {"keys", "add", "--scopes", "estimate"},
		{"keys", "add", "--name", "x", "--scopes", "all"}, {"keys", "revoke", "nokey"}} {
		status, _, errs = call(t, "", append(wrong, "--database-url", url)...)
		require.Equal(t, exitRefused, status, "%v", wrong)
		require.NotEmpty(t, errs)
	}
	for _, wrong := range [][]string{{"keys"}, {"keys", "sing"}, {"keys", "revoke"}, {"keys", "list", "x"},
		{"keys", "add", "--publishable=maybe"}} {
		status, _, _ = call(t, "", wrong...)
		require.Equal(t, exitUsage, status, "%v", wrong)
	}
}
