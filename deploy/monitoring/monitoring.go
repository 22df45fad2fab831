// Package monitoring has nothing to run: its tests hold the alert rules and the dashboard beside it. It is a module of its own,
// as they need Prometheus' own reader and Grafana's types and the service does not.
package monitoring
