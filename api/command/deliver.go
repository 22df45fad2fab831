package command

import (
	"context"
	"log/slog"
	"time"

	"seamwright/api"
)

// deliver tells the webhook endpoints of events until the context ends. What breaks is begun again.
func deliver(ctx context.Context, server *api.Server, log *slog.Logger) {
	const pause = 5 * time.Second
	for {
		err := server.DeliverEvents(ctx)
		if err == nil || ctx.Err() != nil {
			return
		}
		log.Warn("events are not delivered, trying again", "error", err)
		select {
		case <-ctx.Done():
			return
		case <-time.After(pause):
		}
	}
}
