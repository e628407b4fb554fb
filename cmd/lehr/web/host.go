package web

import (
	"net"
	"net/http"
	"net/url"
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
		if (r.Method == http.MethodPost || r.URL.Path == "/sheet") && fromElsewhere(r) {
			next.refuse(w, http.StatusForbidden, "A page of another site asked for this. It is planned from the form here alone.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// fromElsewhere reports whether a page of another site asks, by what the browser
// says of it: such a page could let this machine search all day, and push kept
// answers out. A browser that says nothing, and a program that is none, pass.
func fromElsewhere(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "same-origin", "none":
		return false
	case "":
		from := r.Header.Get("Origin")
		if from == "" {
			return false
		}
		u, err := url.Parse(from)
		return err != nil || !strings.EqualFold(u.Host, r.Host)
	}
	return true
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
