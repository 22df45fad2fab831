package command

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"time"

	"github.com/exaring/otelpgx"
	"github.com/jackc/pgx/v5"
	"go.opentelemetry.io/otel"
	"go.opentelemetry.io/otel/exporters/otlp/otlptrace/otlptracehttp"
	"go.opentelemetry.io/otel/sdk/resource"
	"go.opentelemetry.io/otel/sdk/trace"
	semconv "go.opentelemetry.io/otel/semconv/v1.43.0"

	"seamwright/openapi"
)

// tracesWithin is how long the last spans may take to be sent at the end.
const tracesWithin = 2 * time.Second

// traces sends spans to the collector that the settings name (OTLP over HTTP); nil: none is named. What cannot be sent is let
// go, and the log says so: calls never wait for it.
func (s *settings) traces(ctx context.Context, log *slog.Logger) (*trace.TracerProvider, error) {
	if s.TracesTo == "" {
		return nil, nil //nolint:nilnil // nothing is asked for
	}
	exporter, err := otlptracehttp.New(ctx, otlptracehttp.WithEndpointURL(s.TracesTo))
	if err != nil {
		return nil, fmt.Errorf("--traces-to: %w", err)
	}
	otel.SetErrorHandler(otel.ErrorHandlerFunc(func(err error) { log.Warn("traces are not sent", "error", err) }))
	what := resource.NewSchemaless(semconv.ServiceName("seamwright"), semconv.ServiceVersion(openapi.Version()))
	return trace.NewTracerProvider(trace.WithBatcher(exporter), trace.WithResource(what),
		trace.WithSampler(trace.ParentBased(trace.TraceIDRatioBased(s.TracesShare)))), nil
}

// checkTraces finds what is wrong with the settings of traces.
func (s *settings) checkTraces() error {
	to, err := url.Parse(s.TracesTo)
	if s.TracesTo != "" && (err != nil || to.Host == "" || to.Scheme != "http" && to.Scheme != "https") {
		return fmt.Errorf("--traces-to %q is no address such as http://127.0.0.1:4318/v1/traces", s.TracesTo)
	}
	if !(s.TracesShare >= 0 && s.TracesShare <= 1) {
		return errors.New("--traces-share must be from 0 to 1")
	}
	return nil
}

// queriesOf makes spans of what a call asks the database, without the values that it asks with.
func queriesOf(provider *trace.TracerProvider) pgx.QueryTracer {
	if provider == nil {
		return nil
	}
	return otelpgx.NewTracer(otelpgx.WithTracerProvider(provider), otelpgx.WithDisableConnectionDetailsInAttributes())
}

// endTraces sends what is left.
func endTraces(provider *trace.TracerProvider, log *slog.Logger) {
	if provider == nil {
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), tracesWithin)
	defer cancel()
	if err := provider.Shutdown(ctx); err != nil {
		log.Warn("the last traces are not sent", "error", err)
	}
}
