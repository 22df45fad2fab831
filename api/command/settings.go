package command

import (
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/netip"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"seamwright/api/access"
	"seamwright/api/outbound"
	"seamwright/api/web"
)

// settings are what the environment and the flags say; a flag goes over its variable.
type settings struct {
	Listen          string
	MetricsListen   string
	DataDir         string
	DatabaseURL     string
	PostgresBin     string
	NoAuth          bool
	LogLevel        string
	LogFormat       string
	DatabaseWait    time.Duration
	DrainDelay      time.Duration
	ShutdownTimeout time.Duration
	MemoryLimit     int
	BodyLimit       int64
	KeyLimit        int
	Waiting         int
	FormLimit       int
	KeyTrust        time.Duration
	RevisionWait    time.Duration
	OrderPageKey    string
	TrustedProxies  string
	WebhookAllow    string
	TracesTo        string
	TracesShare     float64

	serverPlaces []string // where PostgreSQL's programs may be besides PATH; nil: where packages put them
}

// variables are the settings' environment variables by flag.
var variables = map[string]string{
	"listen": "SEAMWRIGHT_LISTEN", "metrics-listen": "SEAMWRIGHT_METRICS_LISTEN", "data-dir": "SEAMWRIGHT_DATA_DIR",
	"database-url": "DATABASE_URL", "postgres-bin": "SEAMWRIGHT_POSTGRES_BIN",
	"no-auth": "SEAMWRIGHT_NO_AUTH", "log-level": "SEAMWRIGHT_LOG_LEVEL", "log-format": "SEAMWRIGHT_LOG_FORMAT",
	"database-wait": "SEAMWRIGHT_DATABASE_WAIT", "drain-delay": "SEAMWRIGHT_DRAIN_DELAY",
	"shutdown-timeout": "SEAMWRIGHT_SHUTDOWN_TIMEOUT", "memory-limit": "SEAMWRIGHT_MEMORY_LIMIT",
	"body-limit": "SEAMWRIGHT_BODY_LIMIT",
	"key-limit":  "SEAMWRIGHT_KEY_LIMIT", "waiting": "SEAMWRIGHT_WAITING", "form-limit": "SEAMWRIGHT_FORM_LIMIT",
	"key-trust": "SEAMWRIGHT_KEY_TRUST", "revision-wait": "SEAMWRIGHT_REVISION_WAIT",
	"order-page-key": "SEAMWRIGHT_ORDER_PAGE_KEY", "trusted-proxies": "SEAMWRIGHT_TRUSTED_PROXIES",
	"webhook-allow": "SEAMWRIGHT_WEBHOOK_ALLOW",
	"traces-to":     "SEAMWRIGHT_TRACES_TO", "traces-share": "SEAMWRIGHT_TRACES_SHARE",
}

// flags declares every setting with its default and what it does.
func (s *settings) flags(name string) *pflag.FlagSet {
	f := pflag.NewFlagSet(name, pflag.ContinueOnError)
	f.SortFlags = false
	f.StringVar(&s.Listen, "listen", "127.0.0.1:8080", "`HOST:PORT` to serve on")
	f.StringVar(&s.MetricsListen, "metrics-listen", "",
		"`HOST:PORT` for /metrics alone, instead of serving it with the rest")
	f.StringVar(&s.DataDir, "data-dir", "",
		"`DIR` of the private PostgreSQL (default: seamwright under the user's data directory)")
	f.StringVar(&s.DatabaseURL, "database-url", "", "`URL` of a PostgreSQL to use instead of a private one")
	f.StringVar(&s.PostgresBin, "postgres-bin", "",
		"`DIR` of the PostgreSQL server programs (default: searched on the machine)")
	f.BoolVar(&s.NoAuth, "no-auth", false, "serve without access keys; only on a loopback address")
	f.StringVar(&s.LogLevel, "log-level", "info", "`LEVEL` of the log: debug, info, warn or error")
	f.StringVar(&s.LogFormat, "log-format", "text", "`FORMAT` of the log: text or json")
	f.DurationVar(&s.DatabaseWait, "database-wait", time.Minute,
		"`TIME` that a database which is not there yet is waited for at the start")
	f.DurationVar(&s.DrainDelay, "drain-delay", 2*time.Second,
		"`TIME` after SIGTERM during which /readyz says that it is not ready, and calls are still taken")
	f.DurationVar(&s.ShutdownTimeout, "shutdown-timeout", 15*time.Second, "`TIME` that requests in flight get to finish")
	f.IntVar(&s.MemoryLimit, "memory-limit", 100, "`MiB` of heap that the collector aims to stay under")
	f.Int64Var(&s.BodyLimit, "body-limit", 1<<20, "`BYTES` that a request body may have")
	f.IntVar(&s.KeyLimit, "key-limit", 6000, "`CALLS` a minute that a secret key may make, on each instance")
	f.IntVar(&s.Waiting, "waiting", web.WaitingPerCore,
		"`CALLS` a core that may wait for their turn to compute; more are refused at once")
	f.IntVar(&s.FormLimit, "form-limit", 60,
		"`CALLS` a minute that a publishable key may make from one address, on each instance")
	f.DurationVar(&s.KeyTrust, "key-trust", access.Trust,
		"`TIME` that access keys are trusted when the database cannot be asked whether one was revoked")
	f.DurationVar(&s.RevisionWait, "revision-wait", 5*time.Second,
		"longest `TIME` that a call waits for a revision of the catalogue")
	f.StringVar(&s.OrderPageKey, "order-page-key", "",
		"publishable `KEY` that the example order page calls with; whoever opens the page can read it")
	f.StringVar(&s.TrustedProxies, "trusted-proxies", "",
		"`NETWORKS` whose X-Forwarded-For is believed, such as 10.0.0.0/8")
	f.StringVar(&s.WebhookAllow, "webhook-allow", "",
		"`NETWORKS` that webhooks may call although they are not public, such as 192.168.7.0/24; with any, http:// may be called too")
	f.StringVar(&s.TracesTo, "traces-to", "",
		"`URL` of a collector that takes traces by OTLP over HTTP, such as http://127.0.0.1:4318/v1/traces; off by default")
	f.Float64Var(&s.TracesShare, "traces-share", 0.1,
		"`SHARE` of calls that are traced, 0 to 1; a caller whose traceparent says so decides for its own")
	return f
}

// fromEnvironment puts the variables' values in, before the flags are read.
func fromEnvironment(f *pflag.FlagSet, lookup func(string) (string, bool)) error {
	var wrong []error
	f.VisitAll(func(flag *pflag.Flag) {
		if v, ok := lookup(variables[flag.Name]); ok && v != "" {
			if err := f.Set(flag.Name, v); err != nil {
				wrong = append(wrong, fmt.Errorf("%s: %w", variables[flag.Name], err))
			}
			flag.Changed = false
		}
	})
	return errors.Join(wrong...)
}

// check finds everything wrong with the settings at once.
func (s *settings) check() error {
	var wrong []error
	host, _, err := net.SplitHostPort(s.Listen)
	if err != nil {
		wrong = append(wrong, fmt.Errorf("--listen %q is not HOST:PORT", s.Listen))
	}
	if _, _, err := net.SplitHostPort(s.MetricsListen); s.MetricsListen != "" && err != nil {
		wrong = append(wrong, fmt.Errorf("--metrics-listen %q is not HOST:PORT", s.MetricsListen))
	}
	if s.NoAuth && err == nil && !loopback(host) {
		wrong = append(wrong, fmt.Errorf("--no-auth only works on a loopback address, not on %q", s.Listen))
	}
	if _, err := s.level(); err != nil {
		wrong = append(wrong, err)
	}
	if s.LogFormat != "text" && s.LogFormat != "json" {
		wrong = append(wrong, fmt.Errorf("--log-format %q is neither text nor json", s.LogFormat))
	}
	if _, err := s.proxies(); err != nil {
		wrong = append(wrong, err)
	}
	if _, err := s.webhooks(); err != nil {
		wrong = append(wrong, err)
	}
	if s.OrderPageKey != "" && !access.LooksPublishable(s.OrderPageKey) {
		wrong = append(wrong, errors.New("--order-page-key is no publishable key (seam_public_…); a secret key must not stand in a page"))
	}
	if s.KeyLimit < 1 || s.FormLimit < 1 {
		wrong = append(wrong, errors.New("--key-limit and --form-limit must be at least 1"))
	}
	if s.Waiting < 1 {
		wrong = append(wrong, errors.New("--waiting must be at least 1"))
	}
	if s.DatabaseWait < 0 || s.DrainDelay < 0 {
		wrong = append(wrong, errors.New("--database-wait and --drain-delay must not be negative"))
	}
	if err := s.checkTraces(); err != nil {
		wrong = append(wrong, err)
	}
	if s.KeyTrust < time.Second {
		wrong = append(wrong, errors.New("--key-trust must be at least 1s"))
	}
	if s.RevisionWait < time.Millisecond || s.RevisionWait > 20*time.Second { // answers have 30 s in all
		wrong = append(wrong, errors.New("--revision-wait must be from 1ms to 20s"))
	}
	if s.MemoryLimit < 32 || s.BodyLimit < 1024 || s.ShutdownTimeout <= 0 {
		wrong = append(wrong, errors.New("--memory-limit must be at least 32, --body-limit at least 1024, --shutdown-timeout over 0"))
	}
	return errors.Join(wrong...)
}

// proxies reads the networks whose word on a caller's address is believed.
func (s *settings) proxies() (list []*net.IPNet, err error) {
	for text := range strings.SplitSeq(s.TrustedProxies, ",") {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		_, network, err := net.ParseCIDR(text)
		if err != nil {
			return nil, fmt.Errorf("--trusted-proxies: %q is no network such as 10.0.0.0/8", text)
		}
		list = append(list, network)
	}
	return list, nil
}

// webhooks reads where events may be sent.
func (s *settings) webhooks() (policy outbound.Policy, err error) {
	for text := range strings.SplitSeq(s.WebhookAllow, ",") {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		network, err := netip.ParsePrefix(text)
		if err != nil {
			return policy, fmt.Errorf("--webhook-allow: %q is no network such as 192.168.7.0/24", text)
		}
		policy.Allow = append(policy.Allow, network.Masked())
	}
	return policy, nil
}

func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

func (s *settings) level() (slog.Level, error) {
	var l slog.Level
	if err := l.UnmarshalText([]byte(s.LogLevel)); err != nil {
		return l, fmt.Errorf("--log-level %q is not debug, info, warn or error", s.LogLevel)
	}
	return l, nil
}

func (s *settings) logger(w io.Writer) *slog.Logger {
	level, _ := s.level() // checked
	options := &slog.HandlerOptions{Level: level}
	if s.LogFormat == "json" {
		return slog.New(slog.NewJSONHandler(w, options))
	}
	return slog.New(slog.NewTextHandler(w, options))
}
