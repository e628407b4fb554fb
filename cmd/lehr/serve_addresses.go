package main

import (
	"fmt"
	"net"
	"net/netip"
	"sort"
	"strings"

	"rsc.io/qr"

	"lehr/cmd/lehr/term"
)

// mostAddresses is how many addresses are printed: a machine with many networks
// has more than anyone types.
const mostAddresses = 6

// reachable returns the addresses under which a phone in the same network finds a
// server that listens at an address: that one, or, if it listens everywhere, those
// of the machine, the private networks first. It returns none for an address that
// only this machine reaches.
func reachable(listens *net.TCPAddr, own []net.Addr) []string {
	url := func(ip netip.Addr) string {
		return "http://" + netip.AddrPortFrom(ip, uint16(listens.Port)).String() + "/"
	}
	if !listens.IP.IsUnspecified() {
		ip, ok := netip.AddrFromSlice(listens.IP)
		if ip = ip.Unmap(); !ok || ip.IsLoopback() {
			return nil
		}
		return []string{url(ip)}
	}
	var found []netip.Addr
	for _, a := range own {
		prefix, err := netip.ParsePrefix(a.String())
		if err != nil {
			continue
		}
		ip := prefix.Addr().Unmap()
		// An address of one link needs a zone, which no phone takes.
		if ip.IsLoopback() || ip.IsLinkLocalUnicast() || ip.IsMulticast() || ip.Is6() && listens.IP.To4() != nil && len(listens.IP) == net.IPv4len {
			continue
		}
		found = append(found, ip)
	}
	rank := func(ip netip.Addr) int {
		switch {
		case ip.Is4() && ip.IsPrivate():
			return 0
		case ip.Is4():
			return 1
		}
		return 2
	}
	sort.SliceStable(found, func(i, j int) bool { return rank(found[i]) < rank(found[j]) })
	var out []string
	for _, ip := range found[:min(len(found), mostAddresses)] {
		out = append(out, url(ip))
	}
	return out
}

// showReach prints how a phone finds the server, and who else then does.
func (a *app) showReach(urls []string) {
	if len(urls) == 0 {
		a.Prose(0, "No other machine can reach this address.")
		return
	}
	a.Print("From a phone in the same network:\n")
	for _, u := range urls {
		a.Print("  " + u + "\n")
	}
	if a.Term.TTY && !a.ASCII() {
		if code, err := qr.Encode(urls[0], qr.M); err == nil {
			a.Print(a.qrCode(code))
		}
	}
	a.Prose(0, "Whoever is in this network can then open the page, plan with it, and read what stands in its form: kiln, controller, limits and safety facts of the studio file, its emergency number among them. What one person types is not shown to another. The connection is not encrypted, and there is no password.")
}

// qrCode draws a code in half blocks, two rows of it in one of the terminal, with
// the margin that readers need. Colors are said where the terminal has them;
// without, it is taken to write light on dark.
func (a *app) qrCode(code *qr.Code) string {
	const margin = 4
	black := func(x, y int) bool { return code.Black(x, y) } // false outside of it
	colored := a.Style(term.Bold, "x") != "x"
	marks := [4]string{"█", "▀", "▄", " "} // light both, light above, light below, dark both
	if colored {
		marks = [4]string{" ", "▄", "▀", "█"} // dark on light: what is drawn is dark
	}
	var b strings.Builder
	for y := -margin; y < code.Size+margin; y += 2 {
		var row strings.Builder
		for x := -margin; x < code.Size+margin; x++ {
			i := 0
			if black(x, y) {
				i += 2
			}
			if black(x, y+1) {
				i++
			}
			row.WriteString(marks[i])
		}
		if colored {
			fmt.Fprintf(&b, "  \x1b[30;107m%s\x1b[0m\n", row.String())
			continue
		}
		b.WriteString("  " + row.String() + "\n")
	}
	return b.String()
}
