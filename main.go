// Seamwright estimates wide solid-wood tops that turn a corner.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"seamwright/api/command"
)

func main() {
	ctx, stop := context.WithCancelCause(context.Background())
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		if <-signals == syscall.SIGTERM {
			stop(command.ErrTerminated)
		}
		stop(nil)
		signal.Reset() // a second signal ends the program at once
	}()
	os.Exit(command.Run(ctx, os.Args[1:], os.LookupEnv, os.Stdin, os.Stdout, os.Stderr))
}
