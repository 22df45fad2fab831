package command

import (
	"context"
	"log/slog"
	"time"

	"seamwright/api"
	"seamwright/service/catalogue"
	"seamwright/store/shelf"
)

// lookForChange is how often it is looked whether the catalogue or the shop's day is another.
const lookForChange = time.Second

// recheck lets open quotes be worked out anew whenever the catalogue or the shop's day is another, and moves those whose
// validity has run out, until the context ends. What fails is tried again at the next look.
func recheck(ctx context.Context, server *api.Server, cat *shelf.Catalogue, log *slog.Logger) {
	var revision int64
	var day catalogue.Date
	tick := time.NewTicker(lookForChange)
	defer tick.Stop()
	for {
		if now, today := cat.Snapshot().Revision, server.ShopDay(); now != revision || today != day {
			if checkQuotes(ctx, server, log) {
				revision, day = now, today
			}
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

func checkQuotes(ctx context.Context, server *api.Server, log *slog.Logger) (done bool) {
	expired, err := server.ExpireQuotes(ctx)
	if err == nil {
		err = server.Forget(ctx)
	}
	if err == nil {
		var checked, drifted int
		if checked, drifted, err = server.RecheckQuotes(ctx); err == nil {
			if expired+checked > 0 {
				log.Info("quotes looked through", "expired", expired, "checked", checked, "drifted", drifted)
			}
			return true
		}
	}
	if ctx.Err() == nil {
		log.Warn("quotes not looked through, trying again", "error", err)
	}
	return false
}
