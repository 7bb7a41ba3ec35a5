// The card in the cab in words and as JSON: at which slope the machine gives way, and what it is set up like. Never
// what is allowed. Knows no page, no file.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/cab_card.h"
#include "sim/model/model.h"

namespace sidehill::text {

// Per cent of a slope of so many whole degrees, rounded down, by the rule of degrees_and_percent; none above 80.
std::optional<int> whole_percent_down(int degrees);

// "14° = 24 %": whole degrees and per cent, both rounded down. "0° = 0 %" on level ground already.
std::string card_slope(double slope);

// One cell: `slope` "14° = 24 %", "none up to 45° = 100 %" or "not known"; `way` "slides", "lifts", "over" or nothing.
struct CardCellWords {
  std::string slope, way;
};
CardCellWords card_cell_words(const CardCell& cell, const CardMotion& motion);

// Head of a column: "standing", and how it is meant: "worst heading".
struct CardHead {
  std::string title, how;
};
CardHead card_head(CardCase what, const CardMotion& motion, Units units);

// "bucket pin 0.45 m, 750 kg": the row; nothing without a loader.
std::string card_row_words(const CardRow& row, const BallastPlan& plan, Units units);

// "lowest", "as carried", "half up", "full up": which of the card's heights [m] that is; nothing for another.
std::string card_height_name(const CabCard& card, double pin_height);

// The worst of the card: the number ("3° = 5 %"), and what happens where as sentences; how many cells are not known,
// where any are. `slope` is empty where no cell gives way.
struct CardWorst {
  std::string slope, words, rest;
};
CardWorst card_worst(const CabCard& card, const Scene& scene, Units units);

// What the words of the cells mean, and how the moving cells were found: sentences.
std::vector<std::string> card_legend(const CabCard& card, Units units);

// The set-up the numbers hold for: a name and words each.
struct CardSetUp {
  std::string name, words;
};
std::vector<CardSetUp> card_set_up(const CabCard& card, const Scene& scene, const Model& model, Units units);

// What a driver must know before any slope: ice, or a fill nobody knows the frost of; one sentence each.
std::vector<std::string> card_warnings(const CabCard& card, const Scene& scene);

nlohmann::ordered_json card_json(const CabCard& card, const Scene& scene, const Model& model);

}  // namespace sidehill::text
