package command

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/deploy/faults/line"
	"seamwright/store/storetest"
)

// freeAddress is one that nobody listens on.
func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().String()
}

// serving runs the service at an address until stop is called; status comes then.
func serving(t *testing.T, address string, args ...string) (stop context.CancelCauseFunc, status <-chan int) {
	t.Helper()
	ctx, stop := context.WithCancelCause(context.Background())
	ended := make(chan int, 1)
	over := make(chan struct{})
	go func() {
		defer close(over)
		ended <- Run(ctx, append([]string{"--listen", address, "--no-auth", "--log-level", "error"}, args...), noVariables,
			strings.NewReader(""), io.Discard, os.Stderr)
	}()
	t.Cleanup(func() { stop(nil); <-over })
	return stop, ended
}

// ask gets the status of a path; 0 when nobody answers.
func ask(t *testing.T, address, path string) (status int, header http.Header) {
	t.Helper()
	answer, err := http.Get("http://" + address + path)
	if err != nil {
		return 0, nil
	}
	defer answer.Body.Close()
	_, err = io.Copy(io.Discard, answer.Body)
	require.NoError(t, err)
	return answer.StatusCode, answer.Header
}

const patience = 30 * time.Second

func TestADatabaseThatIsNotThereYetIsWaitedFor(t *testing.T) {
	config, err := pgx.ParseConfig(storetest.New(t))
	require.NoError(t, err)
	wire, err := line.ToDatabase(config.Host, config.Port)
	require.NoError(t, err)
	t.Cleanup(wire.Cut)
	wire.Cut()
	address := freeAddress(t)
	stop, ended := serving(t, address, "--database-url",
		fmt.Sprintf("host=127.0.0.1 port=%s user=%s password='%s' dbname=%s sslmode=disable", wire.Port(), config.User,
			config.Password, config.Database))
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/healthz"); return status == http.StatusOK },
		patience, 10*time.Millisecond)
	for _, path := range []string{"/readyz", "/v1/species", "/v1/keys", "/v1/order-form"} {
		status, header := ask(t, address, path)
		require.Equal(t, http.StatusServiceUnavailable, status, path)
		require.NotEmpty(t, header.Get("Retry-After"), path)
	}
	require.NoError(t, wire.Mend())
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/readyz"); return status == http.StatusOK },
		patience, 10*time.Millisecond)
	status, _ := ask(t, address, "/v1/species")
	require.Equal(t, http.StatusOK, status)
	stop(nil)
	require.Equal(t, exitDone, <-ended)
}

func TestADatabaseThatNeverComesEndsTheService(t *testing.T) {
	_, ended := serving(t, freeAddress(t), "--database-wait", "1ms", "--database-url",
		"postgres://nobody@127.0.0.1:1/none")
	require.Equal(t, exitTrouble, <-ended)
	url := storetest.New(t)
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	_, ended = serving(t, freeAddress(t), "--database-wait", "1h", "--database-url",
		strings.Replace(url, config.Database, "no_such_database", 1))
	require.Equal(t, exitTrouble, <-ended, "one that the server does not have will not come")
	stop, ended := serving(t, freeAddress(t), "--database-wait", "1h", "--database-url",
		"postgres://nobody@127.0.0.1:1/none")
	stop(nil)
	require.Equal(t, exitDone, <-ended, "stopped while it waits")
}

// The figures of the service are for those who run it: on an address of their own nobody else reads them.
func TestMetricsMayHaveAnAddressOfTheirOwn(t *testing.T) {
	address, figures := freeAddress(t), freeAddress(t)
	serving(t, address, "--database-url", storetest.New(t), "--metrics-listen", figures)
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/readyz"); return status == http.StatusOK },
		patience, 10*time.Millisecond)
	for at, want := range map[string]int{address + "|/metrics": 404, figures + "|/metrics": 200, figures + "|/readyz": 404,
		figures + "|/v1/species": 404} {
		where, path, _ := strings.Cut(at, "|")
		status, _ := ask(t, where, path)
		require.Equal(t, want, status, at)
	}
}

func TestTheVersionIsSaid(t *testing.T) {
	status, out, errs := call(t, "", "--version")
	require.Equal(t, exitDone, status, errs)
	require.Regexp(t, `^seamwright \d+\.\d+\.\d+, revision \S+, go1\.\S+\n$`, out)
}

// Twenty clients call without a pause, one after the other each on a connection of its own or on one that was kept, behind
// something that looks at /readyz as a load balancer does. The service is asked to end: none of them loses a call.
func TestAServiceThatIsAskedToEndLosesNoCall(t *testing.T) {
	address := freeAddress(t)
	stop, ended := serving(t, address, "--database-url", storetest.New(t), "--drain-delay", "3s")
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/readyz"); return status == http.StatusOK },
		patience, 10*time.Millisecond)

	var elsewhere atomic.Bool // the balancer sends calls to another instance
	var answered, late, lost atomic.Int64
	var clients sync.WaitGroup
	for i := range 20 {
		clients.Go(func() {
			client := &http.Client{Transport: &http.Transport{DisableKeepAlives: i%2 == 0}}
			defer client.CloseIdleConnections()
			for !elsewhere.Load() {
				answer, err := client.Post("http://"+address+"/v1/movements", "application/json", strings.NewReader(`{}`))
				if err != nil {
					t.Log(err)
					lost.Add(1)
					return
				}
				_, err = io.Copy(io.Discard, answer.Body)
				answer.Body.Close()
				if err != nil {
					lost.Add(1)
				}
				answered.Add(1)
				if answer.Close && i%2 == 1 { // which its client did not ask for
					late.Add(1)
				}
			}
		})
	}
	require.Eventually(t, func() bool { return answered.Load() > 200 }, patience, time.Millisecond)
	stop(ErrTerminated)
	saw := false
	require.Eventually(t, func() bool {
		status, _ := ask(t, address, "/readyz")
		saw = saw || status == http.StatusServiceUnavailable
		return saw && late.Load() > 20
	}, patience, 10*time.Millisecond, "not ready, and still answering")
	elsewhere.Store(true)
	clients.Wait()
	require.Equal(t, exitDone, <-ended)
	require.Zero(t, lost.Load(), "calls that were lost, of %d", answered.Load())
	_, err := net.Dial("tcp", address)
	require.ErrorIs(t, err, syscall.ECONNREFUSED)
}
