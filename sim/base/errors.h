// The one kind of error that is a person's to repair. Knows nothing else.
#pragma once
#include <stdexcept>

namespace sidehill {

// Bad input, as one line for a person: "file:line: key: what is wrong, what is allowed".
struct InputError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace sidehill
