package web

import (
	"context"
	"net/http"

	"github.com/labstack/echo/v4"
	"go.opentelemetry.io/otel/attribute"
	"go.opentelemetry.io/otel/codes"
	"go.opentelemetry.io/otel/propagation"
	semconv "go.opentelemetry.io/otel/semconv/v1.43.0"
	"go.opentelemetry.io/otel/trace"
)

// tracerName is the scope of the spans that are made here.
const tracerName = "seamwright/api/web"

// untraced are routes that probes and collectors ask every few seconds.
var untraced = map[string]bool{"/healthz": true, "/readyz": true, "/metrics": true}

// traced makes a span of each call, part of the caller's trace when it names one (traceparent, W3C Trace Context). Paths,
// queries and bodies are no part of it: they hold what customers said. Attributes are named as OpenTelemetry's semantic
// conventions for HTTP have them.
func (s *Server) traced(next echo.HandlerFunc) echo.HandlerFunc {
	if s.Traces == nil {
		return next
	}
	tracer := s.Traces.Tracer(tracerName)
	return func(c echo.Context) error {
		route := c.Path()
		if untraced[route] {
			return next(c)
		}
		r := c.Request()
		name := methodOf(r.Method)
		if route != "" {
			name += " " + route
		}
		ctx := propagation.TraceContext{}.Extract(r.Context(), propagation.HeaderCarrier(r.Header))
		ctx, span := tracer.Start(ctx, name, trace.WithSpanKind(trace.SpanKindServer),
			trace.WithAttributes(semconv.HTTPRequestMethodKey.String(methodOf(r.Method)), semconv.HTTPRoute(route)))
		defer span.End()
		c.SetRequest(r.WithContext(ctx))
		err := next(c)
		status := c.Response().Status
		span.SetAttributes(semconv.HTTPResponseStatusCode(status),
			attribute.String("http.response.header.x-request-id", c.Response().Header().Get(requestID)))
		if status >= http.StatusInternalServerError {
			span.SetStatus(codes.Error, http.StatusText(status))
		}
		return err
	}
}

// stage is a span for a part of a call's work; end ends it. Without a trace it is nothing.
func stage(ctx context.Context, name string) (end func()) {
	call := trace.SpanFromContext(ctx)
	if !call.IsRecording() {
		return func() {}
	}
	_, span := call.TracerProvider().Tracer(tracerName).Start(ctx, name)
	return func() { span.End() }
}

// traceOf names the trace that a call is part of; empty when it is not kept.
func traceOf(ctx context.Context) string {
	if in := trace.SpanContextFromContext(ctx); in.IsSampled() {
		return in.TraceID().String()
	}
	return ""
}
