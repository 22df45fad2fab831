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
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(command.Run(ctx, os.Args[1:], os.LookupEnv, os.Stdin, os.Stdout, os.Stderr))
}
