package web

import (
	"net/http"
	"strconv"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// metrics are the numbers of one server, in a registry of its own.
type metrics struct {
	handler  http.Handler
	inFlight prometheus.Gauge
	requests *prometheus.CounterVec
	seconds  *prometheus.HistogramVec
}

// newMetrics makes the numbers; revision and up are asked whenever they are read.
func newMetrics(build string, revision, up func() float64) *metrics {
	m := &metrics{
		inFlight: prometheus.NewGauge(prometheus.GaugeOpts{
			Name: "seamwright_requests_in_flight", Help: "Requests being answered now."}),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{
			Name: "seamwright_requests_total", Help: "Requests answered, by method, route and status."},
			[]string{"method", "route", "status"}),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name: "seamwright_request_seconds", Help: "Time from the request's header to the end of the answer, by route.",
			Buckets: []float64{.0001, .00025, .0005, .001, .0025, .005, .01, .025, .05, .1, .25, 1, 5}}, []string{"route"}),
	}
	registry := prometheus.NewRegistry()
	registry.MustRegister(m.inFlight, m.requests, m.seconds,
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}),
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{
			Name: "seamwright_catalogue_revision",
			Help: "Revision of the catalogue that estimates are computed from; 0 before the first."}, revision),
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{
			Name: "seamwright_database_up", Help: "1 when the database answers, else 0."}, up),
		prometheus.NewGaugeFunc(prometheus.GaugeOpts{
			Name: "seamwright_build_info", Help: "1, with the build as a label.",
			ConstLabels: prometheus.Labels{"build": build}}, func() float64 { return 1 }),
	)
	m.handler = promhttp.HandlerFor(registry, promhttp.HandlerOpts{DisableCompression: true})
	return m
}

// count takes a request that has been answered into account.
func (m *metrics) count(method, route string, status int, took time.Duration) {
	m.requests.WithLabelValues(methodOf(method), route, strconv.Itoa(status)).Inc()
	m.seconds.WithLabelValues(route).Observe(took.Seconds())
}

// methodOf is the method, or one word for all that HTTP does not know.
func methodOf(method string) string {
	switch method {
	case http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodHead, http.MethodPatch,
		http.MethodOptions:
		return method
	}
	return "other"
}
