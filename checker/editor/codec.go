package editor

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
)

// mostMessage bounds one message, in bytes: several times the largest plan.
const mostMessage = 128 << 20

// framing reads and writes the messages of the protocol, each under a header
// that gives its length. What is not a message of JSON-RPC is passed over with a
// complaint, so that one bad message does not end the session.
type framing struct {
	most     int64 // bytes of one message
	complain func(string)
}

// WriteObject writes one message.
func (framing) WriteObject(w io.Writer, message any) error {
	data, err := json.Marshal(message)
	if err != nil {
		return fmt.Errorf("write a message: %w", err)
	}
	if _, err := fmt.Fprintf(w, "Content-Length: %d\r\n\r\n", len(data)); err != nil {
		return fmt.Errorf("write a message: %w", err)
	}
	if _, err := w.Write(data); err != nil {
		return fmt.Errorf("write a message: %w", err)
	}
	return nil
}

// ReadObject reads the next message.
func (f framing) ReadObject(r *bufio.Reader, message any) error {
	for {
		length, err := readHeader(r)
		if err != nil {
			return err
		}
		if length > f.most {
			f.complain(fmt.Sprintf("a message of %d bytes was passed over; the limit is %d bytes", length, f.most))
			if _, err := io.CopyN(io.Discard, r, length); err != nil {
				return err
			}
			continue
		}
		var body bytes.Buffer // it grows with what comes, not with what is announced
		if _, err := io.CopyN(&body, r, length); err != nil {
			return err
		}
		err = json.Unmarshal(body.Bytes(), message)
		if err == nil {
			return nil
		}
		f.complain("a message was passed over: " + err.Error())
		reflect.ValueOf(message).Elem().SetZero()
	}
}

// errHeader says that what comes is not the protocol; nobody can tell where the
// next message begins.
var errHeader = errors.New("the stream has no Content-Length where a message should begin")

// readHeader reads the lines before a message and returns its length.
func readHeader(r *bufio.Reader) (int64, error) {
	length := int64(-1)
	for {
		line, err := r.ReadSlice('\n')
		if errors.Is(err, io.EOF) && len(line) == 0 && length < 0 {
			return 0, io.EOF
		}
		if err != nil {
			return 0, fmt.Errorf("read a header: %w", err)
		}
		field := strings.TrimRight(string(line), "\r\n")
		if field == "" {
			if length < 0 {
				return 0, errHeader
			}
			return length, nil
		}
		name, value, _ := strings.Cut(field, ":")
		if !strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
			continue
		}
		if length, err = strconv.ParseInt(strings.TrimSpace(value), 10, 64); err != nil || length < 0 {
			return 0, errHeader
		}
	}
}
