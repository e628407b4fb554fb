package web

import (
	"net"
	"net/http"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/plan"
)

// Handler answers the requests of lehr serve that listens at an address: with
// the form and the sheet, and for a studio's kiln.
func Handler(st kiln.Studio, listen, version string, shortest plan.Planner, failed Outage) http.Handler {
	s := newSite(st)
	s.version, s.shortest, s.failed = version, shortest, failed
	return ownHost(listen, s)
}

// ownHost lets through what is addressed to this machine as it was told to
// listen: a page of some other name, that a stranger's server has pointed here,
// must not reach the form through a person's browser. A request may name
// localhost, a loopback address, the address it came in at, or the name given
// to --listen, with any port, as one may be forwarded.
func ownHost(listen string, next *site) http.Handler {
	named, _, _ := net.SplitHostPort(listen)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		local, _ := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
		if !isOwnHost(r.Host, named, local) {
			next.refuse(w, http.StatusMisdirectedRequest, "This page is at the address that lehr serve printed, and at no other name.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

func isOwnHost(host, named string, local net.Addr) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.TrimSuffix(strings.ToLower(strings.Trim(name, "[]")), ".")
	if name == "" {
		return false
	}
	if name == "localhost" || named != "" && name == strings.ToLower(named) && net.ParseIP(named) == nil {
		return true
	}
	ip := net.ParseIP(strings.SplitN(name, "%", 2)[0])
	if ip == nil {
		return false
	}
	At, ok := local.(*net.TCPAddr)
	return ip.IsLoopback() || ok && At.IP.Equal(ip)
}
