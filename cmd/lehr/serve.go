package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"lehr/anneal/shortest"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/nights"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
)

// defaultListen is seen by this machine alone.
const defaultListen = "127.0.0.1:8080"

func newServeCommand(a *app) *cobra.Command {
	listen := defaultListen
	c := &cobra.Command{
		Use:   "serve [--listen <host:port>]",
		Short: "Serve a page for a phone on which the same job is done by a form",
		Long: `Serves a page with a form: the glass, the pieces, the way into the kiln, the start, the kiln and its controller, the facts of the session, and, after a power failure, two readings. What comes back is the sheet of lehr sheet, with the same checks and words as on the command line; it can be kept as a file. The lists of lehr safety and lehr wrong are there, too. The pages work without scripts and load nothing from elsewhere.

It listens on this machine alone unless you name an address of your own network with --listen. It then prints the addresses at which a phone finds it, with a code to scan where the terminal can draw one, and says who else can read what: there is no password, and whoever reaches the address can plan with it. It answers under that address and localhost, and under the name you give to --listen, and under no other; a page of another site cannot make it plan. It writes no file and reads none but the studio file, once, when it starts. The last 24 answers are kept in memory, each for 12 hours at most: a page that is loaded again, with its ticks, is not planned again. The defaults of the form are those of the studio file.

It runs until Ctrl-C.`,
		Example: `lehr serve
lehr serve --listen 127.0.0.1:8090 --studio studio.toml`,
		Args: noArgs,
	}
	c.Flags().StringVar(&listen, "listen", listen, "answer at this `host:port`")
	c.RunE = func(c *cobra.Command, _ []string) error {
		if err := checkListen(listen); err != nil {
			return err
		}
		st, err := a.ReadStudio()
		if err != nil {
			return err
		}
		st = st.In(a.System(st.Units))
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", listen)
		if err != nil {
			return term.WithHint(fmt.Errorf("serve: --listen %s: %w", listen, netCause(err)), "name another port, such as --listen 127.0.0.1:8081")
		}
		return a.serve(ctx, l, web.Handler(st, listen, desk.ReadVersion().Version, shortest.Planner(func(shortest.Progress) {}), nights.OnPage))
	}
	return c
}

// checkListen refuses what is no address.
func checkListen(listen string) error {
	hint := "write --listen " + defaultListen
	_, port, err := net.SplitHostPort(listen)
	if err != nil {
		return desk.Usagef(hint, "serve: --listen %s: is no host:port", listen)
	}
	if n, err := strconv.Atoi(port); err != nil || n < 0 || n > 65535 {
		return desk.Usagef(hint, "serve: --listen %s: the port must be from 0 to 65535", listen)
	}
	return nil
}

// netCause strips the operation and address that the net package puts before
// an error.
func netCause(err error) error {
	var op *net.OpError
	if errors.As(err, &op) {
		return op.Err
	}
	return err
}

// serve answers on l until the context ends, then lets what is under way end
// too, for a few seconds.
func (a *app) serve(ctx context.Context, l net.Listener, s http.Handler) error {
	server := &http.Server{
		Handler:           s,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    32 << 10,
	}
	a.Printf("lehr serves http://%s/ until Ctrl-C\n", l.Addr())
	addr, ok := l.Addr().(*net.TCPAddr)
	open := ok && !addr.IP.IsLoopback()
	if open {
		own, err := net.InterfaceAddrs()
		if err != nil {
			own = nil // the address it listens at is printed all the same
		}
		a.showReach(reachable(addr, own))
	}
	if err := a.Flush(); err != nil {
		l.Close()
		return err
	}
	if open {
		fmt.Fprintln(a.Err, "lehr: warning: other machines of this network can reach this address, and there is no password")
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	select {
	case err := <-failed:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	ending, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := server.Shutdown(ending); err != nil {
		server.Close()
	}
	return nil
}
