// A figure that somebody published, as it is shown beside what we compute. Knows nothing else.
#pragma once
#include <optional>

namespace sidehill {

// How a figure is known.
enum class FigureKind {
  study,       // a paper or a standard, read or quoted by one that was read
  advice,      // an extension service, a public body, a trade paper
  memory,      // remembered, not read again: check against the print
  assumption,  // ours
};

struct PublishedFigure {
  const char* what;            // in plain words
  double low = 0;              // [unit]
  std::optional<double> high;  // [unit]; nothing: one figure, or only this side is known
  const char* unit;            // as printed; "-" for a pure number
  const char* source;
  FigureKind kind = FigureKind::study;
};

// "study", "advice", "from memory: check against the print", "our assumption".
constexpr const char* figure_kind_words(FigureKind kind) {
  constexpr const char* kWords[] = {"study", "advice", "from memory: check against the print", "our assumption"};
  return kWords[static_cast<int>(kind)];
}

}  // namespace sidehill
