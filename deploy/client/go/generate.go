// Package client calls a seamwright service. All but key.go and retry.go is generated from openapi/openapi.yaml:
//
//	go generate ./deploy/client/go
//
// NewClientWithResponses makes a client; its calls return the answer by status. WithKey adds an access key,
// WithRetries sends again what was lost on the way.
package client

//go:generate go run github.com/oapi-codegen/oapi-codegen/v2/cmd/oapi-codegen@v2.8.2 -config config.yaml ../../../openapi/openapi.yaml
