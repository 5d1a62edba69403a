package assets

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// addPrecache puts two constants in front of the service worker: FILES, the
// path and hash of everything it is to keep, and VERSION, the hash of FILES.
// Any change of the app therefore changes the worker, and that is how a
// browser learns of it. The worker itself is not in the list: its address
// stays the same for ever and it is always asked for.
func addPrecache(assets Files) {
	worker := assets[workerPath]
	if worker == nil {
		return
	}
	files := map[string]string{}
	for address, a := range assets {
		if address != workerPath {
			files[address] = "sha256-" + a.Hash
		}
	}
	list, _ := json.Marshal(files) // keys are sorted: the same app gives the same text
	version := sha256.Sum256(list)
	text := fmt.Appendf(nil, "const FILES=%s;const VERSION=%q;\n%s", list, hex.EncodeToString(version[:8]),
		worker.plain.bytes)
	assets[workerPath] = newAsset(workerPath, text)
}
