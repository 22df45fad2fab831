package main

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"
)

// client calls the service over kept connections and throws the answers away. It does less than net/http's own client, which took as
// much of the two cores as the service: what is measured is the service.
type client struct {
	address string
	idle    chan *connection
}

type connection struct {
	net.Conn
	in *bufio.Reader
}

func newClient(address string, connections int) *client {
	return &client{address: address, idle: make(chan *connection, connections)}
}

func (c *client) close() {
	for {
		select {
		case conn := <-c.idle:
			_ = conn.Close() // nothing is under way
		default:
			return
		}
	}
}

// post sends a JSON body and reads the whole answer, which must have the status given.
func (c *client) post(path, body string, status int) error {
	var conn *connection
	select {
	case conn = <-c.idle:
	default:
		dialled, err := net.Dial("tcp", c.address)
		if err != nil {
			return err
		}
		conn = &connection{Conn: dialled, in: bufio.NewReaderSize(dialled, 64<<10)}
	}
	err := conn.exchange(c.address, path, body, status)
	if err != nil {
		_ = conn.Close() // the error says it already
		return err
	}
	c.idle <- conn
	return nil
}

func (conn *connection) exchange(host, path, body string, status int) error {
	if err := conn.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(conn,
		"POST %s HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", path, host,
		len(body), body); err != nil {
		return err
	}
	answer, err := http.ReadResponse(conn.in, nil)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	if answer.StatusCode != status {
		text, err := io.ReadAll(io.LimitReader(answer.Body, 500))
		if err == nil {
			err = fmt.Errorf("%s was answered %s: %s", path, answer.Status, text)
		}
		return err
	}
	_, err = io.Copy(io.Discard, answer.Body)
	return err
}
