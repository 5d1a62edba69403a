package localname

import (
	"fmt"
	"io"
	"net"

	"github.com/pion/logging"
	"github.com/pion/mdns/v2"
)

// A Service is what the name stands for, as programs that look for services
// are told (RFC 6763).
type Service struct {
	Instance string // what people see
	Type     string // as _https._tcp
	Port     int
}

// answer answers questions on the networks until it is closed. The library's
// own log is of use to nobody in a garage: whether it answers is asked instead.
func answer(o Options, networks []Network) (io.Closer, error) {
	conn, err := open()
	if err != nil {
		return nil, err
	}
	settings := []mdns.ServerOption{
		mdns.WithLocalNames(o.Name),
		mdns.WithInterfaces(interfacesOf(networks)...),
		mdns.WithCacheRefresh(false), // it asks for nothing
		mdns.WithLoggerFactory(&logging.DefaultLoggerFactory{Writer: io.Discard,
			DefaultLogLevel: logging.LogLevelDisabled}),
		mdns.WithService(mdns.ServiceInstance{Instance: o.Service.Instance, Service: o.Service.Type,
			Port: uint16(o.Service.Port)}),
	}
	if o.Only.IsValid() {
		settings = append(settings, mdns.WithLocalAddress(net.IP(o.Only.AsSlice())))
	}
	connIPv6 := openIPv6()
	server, err := mdns.NewServer(conn, connIPv6, settings...)
	if err != nil {
		_ = conn.Close()
		if connIPv6 != nil {
			_ = connIPv6.Close()
		}
		return nil, fmt.Errorf("no network here takes part in multicast: %w", err)
	}
	return server, nil
}

func interfacesOf(networks []Network) (all []net.Interface) {
	for _, n := range networks {
		all = append(all, n.Interface)
	}
	return all
}
