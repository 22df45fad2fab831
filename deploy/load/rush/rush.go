package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"sync"
	"time"
)

// rush measures a service.
type rush struct {
	options
	service *service
	body    []byte
	out     io.Writer
}

// round is what came of one round.
type round struct {
	rate                    float64 // calls a second that were due; 0: without pause
	took                    time.Duration
	answered, refused, late []time.Duration
	cores, client           float64 // that the service, and this program, kept busy
}

func (r *rush) measure(ctx context.Context) error {
	if r.rate == 0 {
		closed, err := r.round(ctx, 0, 2*runtime.NumCPU())
		if err != nil {
			return err
		}
		most := float64(len(closed.answered)) / closed.took.Seconds()
		r.rate = share * most
		fmt.Fprintf(r.out, "%d callers without pause: %.0f calls a second, p50 %s, p99 %s, the service %.2f cores, the client %.2f; sustainable: %.0f\n\n",
			2*runtime.NumCPU(), most, ms(closed.answered, 50), ms(closed.answered, 99), closed.cores, closed.client, r.rate)
	}
	fmt.Fprintln(r.out, "| calls a second | answered a second | p50 | p99 | refused a second | p50 | p99 | the client was late, p99 | cores: service | client |")
	fmt.Fprintln(r.out, "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	var usual, slow, refusals []time.Duration
	for range r.rounds {
		for _, times := range []float64{1, r.times} {
			one, err := r.round(ctx, r.rate*times, r.connections)
			if err != nil {
				return err
			}
			seconds := one.took.Seconds()
			fmt.Fprintf(r.out, "| %.0f | %.0f | %s | %s | %.0f | %s | %s | %s | %.2f | %.2f |\n", one.rate,
				float64(len(one.answered))/seconds, ms(one.answered, 50), ms(one.answered, 99),
				float64(len(one.refused))/seconds, ms(one.refused, 50), ms(one.refused, 99), ms(one.late, 99), one.cores, one.client)
			if times == 1 {
				usual = append(usual, percentile(one.answered, 99))
			} else {
				slow, refusals = append(slow, percentile(one.answered, 99)), append(refusals, percentile(one.refused, 99))
			}
		}
	}
	ratio := float64(median(slow)) / float64(max(median(usual), 1))
	fmt.Fprintf(r.out, "\nMedians of the rounds: answered calls' p99 in a rush %.2f times the usual one (aim %d: %s); refused calls' p99 %.1f ms (aim %s: %s)\n",
		ratio, slowerAtMost, met(ratio <= slowerAtMost), float64(median(refusals).Microseconds())/1000, refusedWithin, met(median(refusals) < refusedWithin))
	return ctx.Err()
}

// round lets so many callers call at a rate, each at times of its own; 0: without pause.
func (r *rush) round(ctx context.Context, rate float64, connections int) (round, error) {
	callers := make([]*caller, connections)
	one := round{rate: rate}
	var every, between time.Duration
	if rate > 0 {
		every = time.Duration(float64(connections) / rate * float64(time.Second))
		between = every / time.Duration(connections)
	}
	before, own, err := r.spent()
	if err != nil {
		return one, err
	}
	var all sync.WaitGroup
	began := time.Now()
	first := began.Add(200 * time.Millisecond) // all are ready by then
	end := first.Add(time.Duration(r.seconds) * time.Second)
	for i := range callers {
		callers[i] = newCaller(r.service.address, r.body)
		all.Go(func() { callers[i].work(ctx, first.Add(time.Duration(i)*between), every, end) })
	}
	all.Wait()
	one.took = time.Since(first)
	after, ownAfter, err := r.spent()
	one.cores, one.client = (after-before).Seconds()/one.took.Seconds(), (ownAfter-own).Seconds()/one.took.Seconds()
	for _, c := range callers {
		err = errors.Join(err, c.lost)
		one.answered, one.refused, one.late = append(one.answered, c.answered...), append(one.refused, c.refused...), append(one.late, c.late...)
	}
	for _, list := range [][]time.Duration{one.answered, one.refused, one.late} {
		slices.Sort(list)
	}
	return one, errors.Join(err, ctx.Err())
}

// spent is the processor time of the service and of this program.
func (r *rush) spent() (service, own time.Duration, err error) {
	if service, err = spent(r.service.cmd.Process.Pid); err != nil {
		return 0, 0, err
	}
	own, err = spent(os.Getpid())
	return service, own, err
}

// percentile of a sorted list: the least value that so many percent do not exceed. Zero of nothing.
func percentile(sorted []time.Duration, percent int) time.Duration {
	if len(sorted) == 0 {
		return 0
	}
	return sorted[max(0, (len(sorted)*percent+99)/100-1)]
}

func median(list []time.Duration) time.Duration {
	slices.Sort(list)
	return percentile(list, 50)
}

func ms(sorted []time.Duration, percent int) string {
	if len(sorted) == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1f ms", float64(percentile(sorted, percent).Microseconds())/1000)
}

func met(yes bool) string {
	if yes {
		return "met"
	}
	return "missed"
}
