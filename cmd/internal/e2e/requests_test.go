//go:build e2e

package e2e

import (
	"bufio"
	"encoding/json"
	"fmt"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// strangers reads what every browser of this run noted of its requests and
// names those that a page, a service worker or a calculation worker of ours
// made to anywhere but 127.0.0.1. What the browser asks for by itself has no
// initiator; it is not ours to answer for, and no name resolves for it. count
// is how many of ours there were.
func strangers(folder string) (found []string, count int) {
	logs, _ := filepath.Glob(filepath.Join(folder, "requests-*.json"))
	for _, name := range logs {
		file, err := os.Open(name)
		if err != nil {
			return append(found, err.Error()), count
		}
		lines := bufio.NewScanner(file)
		lines.Buffer(nil, 16<<20)
		for lines.Scan() {
			address := requested(lines.Bytes())
			if address == "" {
				continue
			}
			count++
			if !isOurs(address) && !slices.Contains(found, address) {
				found = append(found, address)
			}
		}
		if err := lines.Err(); err != nil {
			found = append(found, fmt.Sprintf("%s: %v", name, err))
		}
		_ = file.Close()
	}
	return found, count
}

// requested gives the address in one line of a log, "" where it has none. A
// log is cut off where its browser was killed, so lines are read one by one.
func requested(line []byte) string {
	text := strings.TrimSuffix(strings.TrimSpace(string(line)), ",")
	if !strings.Contains(text, `"url":"`) || !strings.HasPrefix(text, "{") {
		return ""
	}
	var event struct {
		Params struct{ URL, Initiator string }
	}
	if json.Unmarshal([]byte(text), &event) != nil || !isOurs(event.Params.Initiator) {
		return ""
	}
	return event.Params.URL
}

func isOurs(address string) bool {
	u, err := url.Parse(address)
	if err != nil {
		return false
	}
	ip := net.ParseIP(u.Hostname())
	return ip != nil && ip.IsLoopback() || u.Hostname() == houseName || u.Scheme == "data" || u.Scheme == "blob"
}
