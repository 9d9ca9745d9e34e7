package watchtest

import (
	"os"
	"time"
)

// A Way is how a program saves a file.
type Way struct {
	Name string
	Save func(path string, data []byte) error
}

// Ways returns the four ways that matter. Each leaves path holding data, and
// at moments on the way there the file is missing, empty or incomplete.
func Ways() []Way {
	return []Way{
		{"in place", func(path string, data []byte) error {
			return os.WriteFile(path, data, 0o666)
		}},
		{"in place slowly in pieces", func(path string, data []byte) error {
			f, err := os.Create(path)
			if err != nil {
				return err
			}
			for n := (len(data) + 3) / 4; len(data) > 0; data = data[min(n, len(data)):] {
				time.Sleep(12 * time.Millisecond)
				if _, err := f.Write(data[:min(n, len(data))]); err != nil {
					return err
				}
			}
			return f.Close()
		}},
		{"temp and rename", func(path string, data []byte) error {
			if err := os.WriteFile(path+".tmp", data, 0o666); err != nil {
				return err
			}
			return os.Rename(path+".tmp", path)
		}},
		{"backup then new", func(path string, data []byte) error {
			if err := os.Rename(path, path+"~"); err != nil && !os.IsNotExist(err) {
				return err
			}
			time.Sleep(3 * time.Millisecond)
			if err := os.WriteFile(path, data, 0o666); err != nil {
				return err
			}
			return os.Remove(path + "~")
		}},
	}
}
