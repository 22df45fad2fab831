package access

import (
	"math"
	"net/netip"
	"strconv"
	"time"

	lru "github.com/hashicorp/golang-lru/v2"
	"golang.org/x/time/rate"
)

// Limit allows so many calls a minute to each of many callers, all at once or spread. It counts in memory, for this
// process alone; of callers that come back after very many others the count starts anew.
type Limit struct {
	name   string
	quota  int
	counts *lru.Cache[string, *rate.Limiter]
}

// mostCallers bounds how many callers a limit keeps count of.
const mostCallers = 20000

const window = time.Minute

// NewLimit makes a limit of so many calls a minute. The name is what callers see.
func NewLimit(name string, quota int) *Limit {
	counts, err := lru.New[string, *rate.Limiter](mostCallers)
	if err != nil {
		panic(err) // only for a size of zero
	}
	return &Limit{name: name, quota: quota, counts: counts}
}

// Policy is the value of the header RateLimit-Policy (draft-ietf-httpapi-ratelimit-headers).
func (l *Limit) Policy() string {
	return `"` + l.name + `";q=` + strconv.Itoa(l.quota) + `;w=` + strconv.Itoa(int(window.Seconds()))
}

// Take counts one call. State is the value of the header RateLimit; wait is how long to wait when the call is one too
// many, else zero.
func (l *Limit) Take(caller string, now time.Time) (state string, wait time.Duration) {
	counter := l.counter(caller)
	allowed := counter.AllowN(now, 1)
	left := counter.TokensAt(now)
	if !allowed {
		wait = l.until(left, 1)
	}
	return l.state(left), wait
}

// Charge counts so many calls more, whether or not they are left: what a call took is known when it was done. State is as
// Take has it.
func (l *Limit) Charge(caller string, calls int, now time.Time) (state string) {
	counter := l.counter(caller)
	counter.ReserveN(now, min(calls, l.quota)) // more than all of it cannot be reserved
	return l.state(counter.TokensAt(now))
}

// streamShare is the part of a limit that streams leave to other calls.
const streamShare = 0.1

// Spare is how long to wait until more is left than streams leave to other calls; zero when it is. It counts nothing.
func (l *Limit) Spare(caller string, now time.Time) (wait time.Duration) {
	least := max(1, streamShare*float64(l.quota))
	if left := l.counter(caller).TokensAt(now); left < least {
		wait = max(l.until(left, least), time.Millisecond)
	}
	return wait
}

// until is how long it takes until so many calls are left.
func (l *Limit) until(left, least float64) time.Duration {
	return time.Duration((least - left) * float64(window) / float64(l.quota))
}

func (l *Limit) state(left float64) string {
	full := math.Ceil((float64(l.quota) - left) / float64(l.quota) * window.Seconds())
	return `"` + l.name + `";r=` + strconv.Itoa(max(0, int(left))) + `;t=` + strconv.Itoa(int(full))
}

// Network is what an address counts as: itself, or of IPv6 its /64, as a single connection has a whole one.
func Network(address string) string {
	ip, err := netip.ParseAddr(address)
	if err != nil || ip.Unmap().Is4() {
		return address
	}
	network, err := ip.WithZone("").Prefix(64)
	if err != nil { // cannot be: every such address has one
		return address
	}
	return network.String()
}

func (l *Limit) counter(caller string) *rate.Limiter {
	if counter, there := l.counts.Get(caller); there {
		return counter
	}
	fresh := rate.NewLimiter(rate.Limit(float64(l.quota)/window.Seconds()), l.quota)
	if before, there, _ := l.counts.PeekOrAdd(caller, fresh); there {
		return before
	}
	return fresh
}
