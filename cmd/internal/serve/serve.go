// Package serve has the command that shows the library as a page in a browser.
//
// It refuses to show the library to a network without a password.
package serve

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/stream"
	"hatchlore/cmd/internal/terminal"
	"hatchlore/cmd/internal/usage"
	"hatchlore/query/web"
)

// Command is the command that serves the page.
func Command(at *library.Place) *cobra.Command {
	var listen, passwordFile string
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "the library as a page in your browser, on this machine only",
		Long: `Shows the library in a browser: species, disagreements, every claim beside the picture of its page,
search, trials. It answers to this machine only. To reach it from a telephone at the bench, name an
address of this machine with --listen and a file with a password; the password and all that is shown
then cross your network unencrypted. Ctrl-C ends it. Other commands work beside it.`,
		Example: `  hatchlore serve
  hatchlore serve --listen 192.0.2.7:8460 --password-file ~/hatchlore-password`,
		Args: usage.None,
	}
	cmd.Flags().StringVar(&listen, "listen", "127.0.0.1:8460", "address and port to answer at; port 0 takes a free one")
	cmd.Flags().StringVar(&passwordFile, "password-file", "", "file whose first line is the password asked for; - is standard input")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		password, err := readPassword(cmd.InOrStdin(), passwordFile)
		if err != nil {
			return err
		}
		if err := checkListen(listen, password != ""); err != nil {
			return err
		}
		return at.UseNew(func(lib *library.Library) error {
			return serve(cmd.Context(), cmd, lib, listen, password)
		})
	}
	return cmd
}

// Limits of a connection: a page is small and so is what it is asked with.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	headerSize = 64 << 10
	lastTime   = 5 * time.Second // for answers under way when the server ends
)

func serve(ctx context.Context, cmd *cobra.Command, lib *library.Library, listen, password string) error {
	l, err := net.Listen("tcp", listen)
	if err != nil {
		return fmt.Errorf("%s cannot be listened at (%w); another address or port goes behind --listen", listen, err)
	}
	shelf, err := newShelf(ctx, lib)
	if err != nil {
		return errors.Join(err, l.Close())
	}
	defer shelf.close()
	page, err := web.New(shelf, web.Options{Hosts: hostsOf(l.Addr()), Password: password, Pictures: pictureFolder(lib)})
	if err != nil {
		return errors.Join(err, l.Close())
	}
	defer page.Close()
	page.Prepare()
	server := &http.Server{Handler: page, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, MaxHeaderBytes: headerSize}
	terminal.Say(cmd.OutOrStdout(), "the library is open at http://%s/ until you press Ctrl-C", shownAddress(l.Addr()))
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	select {
	case err := <-done:
		return fmt.Errorf("the page stopped: %w", err)
	case <-ctx.Done():
	}
	// Ctrl-C is how a keeper closes the page: no fault.
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), lastTime)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		server.Close()
	}
	<-done
	return nil
}

// pictureFolder is where page pictures are kept. Like the index they can be
// thrown away.
func pictureFolder(lib *library.Library) string { return filepath.Join(lib.Store().Dir(), "pages") }

// readPassword reads the first line of a file that nobody else should read.
func readPassword(stdin io.Reader, path string) (string, error) {
	if path == "" {
		return "", nil
	}
	var data []byte
	err := stream.Read(stdin, path, func(r io.Reader) (err error) {
		data, err = io.ReadAll(io.LimitReader(r, 1<<16))
		return err
	})
	if err != nil {
		return "", err
	}
	line, _, _ := strings.Cut(string(data), "\n")
	line = strings.TrimSpace(line)
	if len(line) < leastPassword {
		return "", fmt.Errorf("the first line of %s has fewer than %d characters; write a longer password there", path, leastPassword)
	}
	return line, nil
}

const leastPassword = 8

// checkListen refuses to show the library to a network without a password.
func checkListen(listen string, password bool) error {
	host, port, err := net.SplitHostPort(listen)
	if n, e := strconv.ParseUint(port, 10, 16); err != nil || e != nil || fmt.Sprint(n) != port {
		return usage.Errorf("--listen takes an address and a port, as 127.0.0.1:8460, not %q", listen)
	}
	if password || host == "localhost" {
		return nil
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsLoopback() {
		return nil
	}
	return usage.Errorf("--listen %s would show the library to others in the network; give a --password-file as well, or listen at 127.0.0.1", listen)
}

// hostsOf returns the names by which the page may be asked for: those of the
// address listened at; of this machine where it listens at every address.
func hostsOf(addr net.Addr) []string {
	tcp, ok := addr.(*net.TCPAddr)
	if !ok {
		return []string{addr.String()}
	}
	port := fmt.Sprint(tcp.Port)
	var hosts []string
	add := func(names ...string) {
		for _, n := range names {
			hosts = append(hosts, strings.ToLower(net.JoinHostPort(n, port)))
			if port == "80" {
				hosts = append(hosts, strings.ToLower(n))
			}
		}
	}
	switch {
	case tcp.IP.IsLoopback():
		add(tcp.IP.String(), "localhost")
	case !tcp.IP.IsUnspecified():
		add(tcp.IP.String())
	default:
		add("localhost")
		if name, err := os.Hostname(); err == nil {
			add(name, name+".local")
		}
		own, err := net.InterfaceAddrs()
		if err != nil {
			break
		}
		for _, a := range own {
			if n, ok := a.(*net.IPNet); ok {
				add(n.IP.String())
			}
		}
	}
	return hosts
}

// shownAddress is the address to type into a browser.
func shownAddress(addr net.Addr) string {
	if tcp, ok := addr.(*net.TCPAddr); ok && tcp.IP.IsUnspecified() {
		if name, err := os.Hostname(); err == nil {
			return net.JoinHostPort(name, fmt.Sprint(tcp.Port))
		}
	}
	return addr.String()
}
