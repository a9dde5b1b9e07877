package page

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"time"
)

// The times a connection may take.
const (
	headerTime, readTime, writeTime, idleTime = 5 * time.Second, 20 * time.Second, 60 * time.Second, 2 * time.Minute
	stopTime                                  = 5 * time.Second
)

// Place is an address that is listened at.
type Place struct {
	Listener net.Listener
	// Hosts are the names it may be asked by, Address is how the page is found, Away is set where others on the network reach it.
	Hosts   []string
	Address string
	Away    bool
}

// Listen takes an address, host:port or a port alone, which means this machine only. A host must be an address of this machine, not
// a name: what a name means can be changed by others.
func Listen(address string) (*Place, error) {
	if !strings.Contains(address, ":") {
		address = "127.0.0.1:" + address
	}
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, fmt.Errorf("%s is no address: write 127.0.0.1:8080, or a port alone", address)
	}
	if host == "localhost" {
		address, host = strings.Replace(address, "localhost", "127.0.0.1", 1), "127.0.0.1"
	}
	ip := net.ParseIP(host)
	if ip == nil {
		return nil, fmt.Errorf("%s is no address of this machine: write its number, such as 192.168.1.5:8080", address)
	}
	if ip.IsUnspecified() {
		return nil, fmt.Errorf("%s would be every address of this machine: name the one in the shop's network", address)
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, err
	}
	at := l.Addr().(*net.TCPAddr)
	p := &Place{Listener: l, Away: !ip.IsLoopback(), Address: "http://" + at.String(), Hosts: []string{strings.ToLower(at.String())}}
	if !p.Away {
		p.Hosts = append(p.Hosts, fmt.Sprintf("localhost:%d", at.Port))
	}
	if at.Port == 80 { // then a browser leaves it out
		for _, h := range p.Hosts {
			p.Hosts = append(p.Hosts, strings.TrimSuffix(h, ":80"))
		}
	}
	return p, nil
}

// Serve answers until the context ends, then finishes what was begun.
func Serve(ctx context.Context, p *Place, handler http.Handler) error {
	server := &http.Server{Handler: handler, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime, MaxHeaderBytes: 32 << 10}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(p.Listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	end, cancel := context.WithTimeout(context.Background(), stopTime)
	defer cancel()
	err := server.Shutdown(end)
	if errors.Is(err, context.DeadlineExceeded) {
		return server.Close()
	}
	return err
}
