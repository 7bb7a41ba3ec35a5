#include "render/page/label_page.h"

#include <fmt/format.h>

#include "render/page/form.h"
#include "render/page/paper.h"
#include "render/page/provenance.h"
#include "render/text/fill/axle_filling_words.h"
#include "render/text/words/words.h"

namespace sidehill::page {
namespace {

// One wheel with what it holds: of a pair that is not alike each its own.
struct LabelOf {
  const AxleFilling* filling;
  std::size_t wheel;
  const FillSheet* sheet;
};

std::vector<LabelOf> labels_of(std::span<const AxleFilling> fillings) {
  std::vector<LabelOf> out;
  for (const AxleFilling& filling : fillings)
    for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
      const std::size_t wheel = (filling.front ? std::size_t{kFrontLeft} : std::size_t{kRearLeft}) + i;
      if (!has_liquid(filling.scene, wheel)) continue;
      const bool own = filling.other && wheel != filling.wheel;
      out.push_back({&filling, wheel, own ? &*filling.other : &filling.sheet});
    }
  return out;
}

// Short words of what the liquid does to whoever meets it; empty where it does nothing.
std::string danger_words(const FillSheet& s) {
  constexpr std::size_t kMostLetters = 60;  // more would become too small on the card
  const Medium medium = s.medium;
  const std::string& poison = s.request.own.poison;
  switch (medium) {
    case Medium::ethylene_glycol:
      return "POISON when swallowed, by people and animals.";
    case Medium::methanol:
      return "POISON, AND IT BURNS: no flame, no spark.";
    case Medium::own:
      return poison.empty()                  ? "What it does to people: not known, ask the seller."
             : poison.size() <= kMostLetters ? poison
                                             : "What it does to people: see its data sheet.";
    default:
      break;
  }
  return info(medium).solute && medium != Medium::propylene_glycol
             ? "Salt: irritates the eyes, kills plants, rusts steel."
             : std::string();
}

// "calcium chloride, 23 % by mass": without the frost of its name, for the limit stands below it on its own.
std::string what_is_inside(const FillSheet& s, Units units) {
  const auto& solute = info(s.medium).solute;
  return solute ? fmt::format("{}, {:.0f} % by mass", info(*solute).name, s.mass_fraction * 100)
                : read_in(medium_name(mix_of(s)), units);
}

PageSheet label(const LabelOf& of, Units units) {
  const FillSheet& s = *of.sheet;
  PageSheet sheet;
  sheet.width = kLabelWidth, sheet.height = kLabelHeight;
  constexpr double kInset = 10, kRoom = kLabelWidth - 2 * kInset;
  add_rectangle(sheet, 0, 0, kLabelWidth, kLabelHeight, Pattern::none, palette::kCard, palette::kInkSoft, 0.75);
  sheet.marks.push_back(PagePath{{{4, 4}, {kLabelWidth - 4, 4}, {kLabelWidth - 4, 32}, {4, 32}},
                                 true,
                                 0,
                                 palette::kInk,
                                 Dash::solid,
                                 Pattern::plain,
                                 palette::kInk});
  add_text(sheet, kLabelWidth / 2, 23, "Liquid inside: heavy when taken off", 14, rgb(0xFFFFFF), true, 0.5);
  add_fitted(sheet, kInset, 51, what_is_inside(s, units), 15, kRoom, true);
  add_fitted(sheet, kInset, 64, fmt::format("{} wheel, {}", kWheelWords[of.wheel].title, s.tyre.size), 9.5, kRoom);
  add_fitted(
      sheet, kInset, 87,
      fmt::format("{}, {}", litres_words(s.jacked.volume, units), measured(Quantity::mass, mass_of(s), 0, units)), 20,
      kRoom, true);
  add_fitted(sheet, kInset, 98, "estimate from the tyre's size: " + litres_range(s, 1, units), 8, kRoom);
  add_fitted(sheet, kInset, 115, "Frost limit: " + frost_limit_words(s, units), 13, kRoom, true);
  add_fitted(sheet, kInset, 131, fmt::format("Air: {}, valve at the top", air_words(s.pressure, units)), 12, kRoom,
             true);
  add_fitted(sheet, kInset, 147, "No welding or heating of this rim.", 12, kRoom, true);
  const std::string danger = danger_words(s);
  if (!danger.empty()) add_fitted(sheet, kInset, 160, danger, 10, kRoom);
  draw_fields(sheet, {"date", "filled by"}, kInset, 185, kRoom, 10);
  return sheet;
}

// Short lines outside the corner of a card, along which to cut.
void cut_marks(PageSheet& sheet, double x, double y) {
  constexpr double kFrom = 2, kTo = 9;
  for (const double side : {0.0, kLabelWidth})
    for (const double end : {0.0, kLabelHeight}) {
      const double out_x = side > 0 ? 1 : -1, out_y = end > 0 ? 1 : -1;
      add_line(sheet, {x + side + out_x * kFrom, y + end}, {x + side + out_x * kTo, y + end}, palette::kInk, 0.5);
      add_line(sheet, {x + side, y + end + out_y * kFrom}, {x + side, y + end + out_y * kTo}, palette::kInk, 0.5);
    }
}

}  // namespace

std::vector<PdfPage> label_pages(std::span<const AxleFilling> fillings, Units units, PaperSize size) {
  Paper paper(size);
  constexpr int kAcross = 2, kDown = 3;
  constexpr double kGap = 18, kTop = 62, kGapDown = 20;
  const double left = (paper.width() - kAcross * kLabelWidth - (kAcross - 1) * kGap) / 2;
  const std::vector<LabelOf> labels = labels_of(fillings);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const int place_here = static_cast<int>(i) % (kAcross * kDown);
    if (place_here == 0) {
      if (i > 0) {
        paper.go_to(paper.height());
        paper.need(1);
      }
      add_text(paper.sheet(), Paper::kMargin, 34, "Rim labels", 14, palette::kInk, true);
      add_text(paper.sheet(), Paper::kMargin + 90, 34,
               "Cut along the marks, protect from water, tie one to each wheel.", 10);
    }
    const int down = place_here / kAcross;
    const double x = left + (place_here % kAcross) * (kLabelWidth + kGap), y = kTop + down * (kLabelHeight + kGapDown);
    place(paper.sheet(), label(labels[i], on_scales(units)), x, y);
    cut_marks(paper.sheet(), x, y);
  }
  const Scene& scene = fillings.front().scene;
  const std::string below =
      "Litres and kilograms are estimates from the tyre's size; write the meter's litres on the card if they differ. "
      "The "
      "frost limit is the first ice at the warm end of what is known. The makers' words come first.";
  double y = paper.height() - 74;
  for (const std::string& line : wrapped(below, paper.room(), 8))
    add_text(paper.sheet(), Paper::kMargin, y += 10, line, 8);
  return paper.finish(kCautionLine, made_by(scene));
}

void write_labels(const std::filesystem::path& path, std::span<const AxleFilling> fillings, Units units,
                  PaperSize size) {
  const std::string& title = fillings.front().scene.title;
  write_pdf(path, label_pages(fillings, units, size), title.empty() ? "Rim labels" : "Rim labels: " + title);
}

}  // namespace sidehill::page
