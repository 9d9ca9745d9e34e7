package driver

// mostKept is how many bytes of files a reader keeps. A batch whose orders name
// a file each reads more than memory may hold; most designs read a few.
const mostKept = 64 << 20

// kept are files as they were read, up to [mostKept]: those that were read last,
// and at least one.
type kept struct {
	files map[string][]byte // by path as named
	order []string          // as they were read
	bytes int
}

func (k *kept) find(path string) ([]byte, bool) {
	data, ok := k.files[path]
	return data, ok
}

func (k *kept) add(path string, data []byte) {
	if k.files == nil {
		k.files = map[string][]byte{}
	}
	k.files[path] = data
	k.order = append(k.order, path)
	k.bytes += len(data)
	for k.bytes > mostKept && len(k.order) > 1 {
		k.bytes -= len(k.files[k.order[0]])
		delete(k.files, k.order[0])
		k.order = k.order[1:]
	}
}
