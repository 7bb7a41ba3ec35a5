// A filling asked for by a tyre and what goes into it, the rest left to the defaults.
#pragma once
#include <string>

#include "sim/insight/fill_sheet.h"

namespace sidehill {

inline FillRequest request_of(const std::string& tyre, const std::string& medium = "water") {
  FillRequest request;
  request.tyre = tyre;
  request.medium = medium;
  return request;
}

}  // namespace sidehill
