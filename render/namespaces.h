// The namespaces of render, and which of them may use which without saying so: words, then pages, then the screen.
#pragma once

namespace sidehill {
namespace text {}
namespace page {
using namespace text;
}
namespace screen {
using namespace text;
using namespace page;
}  // namespace screen
}  // namespace sidehill
