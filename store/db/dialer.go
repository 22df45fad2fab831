package db

import (
	"net"
	"time"
)

// dialer opens lines to a server whose silence is noticed: by probes while nothing is under way, and (on Linux) by what it
// does not acknowledge.
func dialer() *net.Dialer {
	return &net.Dialer{KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: 5 * time.Second, Interval: 3 * time.Second,
		Count: 3}, Control: giveUpSilence}
}
