package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"time"
)

// caller is one connection and what came of its calls. It does as little as can be: each microsecond that it takes is one
// that the service on the same cores has not.
type caller struct {
	address string
	request []byte // header and body
	conn    net.Conn
	in      *bufio.Reader

	answered, refused []time.Duration // from when the call was due
	late              []time.Duration // of the caller itself, when it had nothing else to do
	lost              error
}

func newCaller(address string, body []byte) *caller {
	head := fmt.Sprintf("POST /v1/estimates HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n", address, len(body))
	return &caller{address: address, request: append([]byte(head), body...), in: bufio.NewReaderSize(nil, 16<<10)}
}

// work calls at its times: at first, and then every so often, until the end. With no pause between calls each is due when the
// one before is answered.
func (c *caller) work(ctx context.Context, first time.Time, every time.Duration, end time.Time) {
	for due := first; due.Before(end) && ctx.Err() == nil && c.lost == nil; due = due.Add(every) {
		if every == 0 {
			due = time.Now()
		} else if early := time.Until(due); early > 0 {
			time.Sleep(early)
			c.late = append(c.late, time.Since(due))
		}
		status, err := c.call()
		switch took := time.Since(due); {
		case err != nil:
			c.lost = err
		case status == http.StatusOK:
			c.answered = append(c.answered, took)
		case status == http.StatusServiceUnavailable:
			c.refused = append(c.refused, took)
		default:
			c.lost = fmt.Errorf("answered %d", status)
		}
	}
	c.hangUp()
}

func (c *caller) hangUp() {
	if c.conn != nil {
		_ = c.conn.Close() // nothing is under way
		c.conn = nil
	}
}

func (c *caller) call() (status int, err error) {
	if c.conn == nil {
		if c.conn, err = net.Dial("tcp", c.address); err != nil {
			return 0, err
		}
		c.in.Reset(c.conn)
	}
	if _, err = c.conn.Write(c.request); err != nil {
		return 0, err
	}
	return c.read()
}

// read reads one answer. Those of the service have a length, or are chunked.
func (c *caller) read() (status int, err error) {
	line, err := c.in.ReadSlice('\n')
	if err != nil {
		return 0, err
	}
	if len(line) < 12 {
		return 0, fmt.Errorf("unexpected status line %q", line)
	}
	if status, err = strconv.Atoi(string(line[9:12])); err != nil {
		return 0, err
	}
	length, ends := -1, false
	for {
		if line, err = c.in.ReadSlice('\n'); err != nil {
			return 0, err
		}
		if line = bytes.TrimRight(line, "\r\n"); len(line) == 0 {
			break
		}
		if value, found := bytes.CutPrefix(line, []byte("Content-Length: ")); found {
			if length, err = strconv.Atoi(string(value)); err != nil {
				return 0, err
			}
		}
		ends = ends || bytes.EqualFold(line, []byte("Connection: close"))
	}
	if length < 0 {
		return 0, fmt.Errorf("an answer %d without a length", status)
	}
	if _, err = c.in.Discard(length); err != nil {
		return 0, fmt.Errorf("the answer ended early: %w", io.ErrUnexpectedEOF)
	}
	if ends {
		c.hangUp()
	}
	return status, nil
}
