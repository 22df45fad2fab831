package client

import (
	"context"
	"net/http"
)

// WithKey sends an access key with every call.
func WithKey(key string) ClientOption {
	return WithRequestEditorFn(func(_ context.Context, r *http.Request) error {
		r.Header.Set("Authorization", "Bearer "+key)
		return nil
	})
}
