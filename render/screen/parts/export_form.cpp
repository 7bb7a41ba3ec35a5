#include "render/screen/parts/export_form.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <iterator>
#include <vector>

#include "render/page/make_chart.h"
#include "render/text/words/words.h"
#include "sim/base/enum_table.h"

namespace sidehill::screen {
namespace {

struct Size {
  const char* name;
  int width, height;
};
constexpr Size kPictureSizes[] = {{"1280 x 720", 1280, 720}, {"1920 x 1080", 1920, 1080}, {"3840 x 2160", 3840, 2160}};
constexpr Size kFilmSizes[] = {{"1280 x 720", 1280, 720}, {"1920 x 1080", 1920, 1080}, {"640 x 360", 640, 360}};

struct Speed {
  const char* name;
  double slow;
};
constexpr Speed kSpeeds[] = {
    {"as it happens", 1}, {"2 times slower", 2}, {"5 times slower", 5}, {"10 times slower", 10}};

// What can be saved, in the order of enum ExportKind.
struct Saved {
  const char* name;
  const char* file;  // its name until a person types another
  std::vector<const char*> endings;
  bool of_run;
  const char* help = nullptr;  // of a page
};
const std::array<Saved, count_of<ExportKind>()>& saved() {
  static const std::array<Saved, count_of<ExportKind>()> list = {
      {{"Picture", "picture", {".png"}, false},
       {"Film of the run", "film", {".mp4", ".webm", ".gif"}, true},
       {"Chart", "chart", {".svg", ".png"}, false},
       {"Report to sign",
        "report",
        {".pdf"},
        false,
        "As PDF: loads, limits, what is not known, cautions, a line to sign."},
       {"Filling sheet",
        "filling_sheet",
        {".pdf"},
        false,
        "As PDF, a page for each axle that holds liquid: the steps for whoever fills the tyres."},
       {"Rim labels",
        "rim_labels",
        {".pdf"},
        false,
        "As PDF, a card for each filled wheel: medium, litres, frost, heavy when taken off."},
       {"Card for the cab",
        "cab_card",
        {".pdf"},
        false,
        "As PDF: at which slope it gives way, by bucket height and load, standing and moving. Takes some seconds."},
       {"Lesson hand-out",
        "handout",
        {".pdf"},
        false,
        "As PDF: the lesson on a sheet of paper, the answer on its back. A lesson must be open."},
       {"Recorded run", "recorded", {".run"}, true}}};
  return list;
}

template <class T>
std::vector<std::string> names_of(const T& list) {
  std::vector<std::string> names;
  for (const auto& entry : list) names.emplace_back(entry.name);
  return names;
}

template <class T>
const auto& entry(const T& list, int index) {
  return list[static_cast<std::size_t>(std::clamp(index, 0, static_cast<int>(std::size(list)) - 1))];
}

const char* ending_of(const ExportChoices& choices) {
  const int format = choices.kind == static_cast<int>(ExportKind::film)    ? choices.film_format
                     : choices.kind == static_cast<int>(ExportKind::chart) ? choices.chart_format
                                                                           : 0;
  return entry(entry(saved(), choices.kind).endings, format);
}

void set_file(ExportChoices& choices, const std::string& name) {
  const std::size_t length = std::min(name.size(), sizeof choices.file - 1);
  std::memcpy(choices.file, name.data(), length);
  choices.file[length] = '\0';
}

void row(Ui& ui, const char* label) {
  soft_text(ui, label);
  ImGui::SameLine(ui.px(92));
}

void choose(Ui& ui, const char* label, const char* id, const std::vector<std::string>& names, int& index,
            const char* help) {
  row(ui, label);
  choice(ui, id, names, index, help, ImGui::GetContentRegionAvail().x);
}

void draw_film(Ui& ui, ExportChoices& choices) {
  choose(ui, "Format", "Film format", {"MP4, for most players", "WebM, for web pages", "GIF, large, plays anywhere"},
         choices.film_format, "MP4 plays nearly everywhere. A GIF is many times larger: keep it small and short.");
  choose(ui, "Size", "Film size", names_of(kFilmSizes), choices.film_size, "Width and height in pixels.");
  choose(ui, "Speed", "Film speed", names_of(kSpeeds), choices.film_speed,
         "Slow motion: what happens between two stored moments is passed over smoothly, nothing is made up.");
  ImGui::Checkbox("Labels and read-outs", &choices.film_labels);
  const ImVec2 low = ImGui::GetItemRectMin(), size = ImGui::GetItemRectSize();
  const Rect place{low.x, low.y, size.x, size.y};
  remember(ui, "Film labels", place);
  if (reach(ui, "Film labels", place) && ui.enter) choices.film_labels = !choices.film_labels;
  if (!choices.has_run) soft_text(ui, "A film needs a run: press Play or Drive first.", true);
}

void draw_chart(Ui& ui, ExportChoices& choices) {
  choose(ui, "Chart of", "Chart of", names_of(offered_charts()), choices.chart_of, "What the chart shows.");
  choose(ui, "Format", "Chart format", {"SVG, sharp at any size", "PNG, a picture"}, choices.chart_format,
         "SVG can be enlarged and its words searched; PNG goes into any letter.");
  if (entry(offered_charts(), choices.chart_of).of_run && !choices.has_run)
    soft_text(ui, "A chart over time needs a run: press Play or Drive first.", true);
}

}  // namespace

bool is_page(ExportKind kind) { return entry(saved(), static_cast<int>(kind)).help; }
const char* name_of(ExportKind kind) { return entry(saved(), static_cast<int>(kind)).name; }
const char* export_help(ExportKind kind) {
  const char* help = entry(saved(), static_cast<int>(kind)).help;
  return help ? help : "";
}
std::string usual_file(ExportKind kind) {
  const Saved& one = entry(saved(), static_cast<int>(kind));
  return std::string(one.file) + one.endings.front();
}

void choose_paper(Ui& ui, ExportChoices& choices) {
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), 0));
  if (button(ui, "A4", Icon::none, "Paper of 210 x 297 mm", choices.paper == page::PaperSize::a4, ui.px(40)))
    choices.paper = page::PaperSize::a4;
  ImGui::SameLine();
  if (button(ui, "Letter", Icon::none, "Paper of 8.5 x 11 inches", choices.paper == page::PaperSize::letter, ui.px(60)))
    choices.paper = page::PaperSize::letter;
  ImGui::PopStyleVar();
}

void draw_share(Ui& ui, const char* item, double part, const std::string& words) {
  const float share = std::clamp(static_cast<float>(part), 0.f, 1.f);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const Rect bar{corner.x, corner.y + ui.px(4), ImGui::GetContentRegionAvail().x, ui.px(10)};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(bar.low(), bar.high(), colour(theme::kTrough), ui.px(3));
  if (share > 0)
    list.AddRectFilled(bar.low(), {bar.x + share * bar.width, bar.y + bar.height}, colour(theme::kAccent), ui.px(3));
  remember_readout(ui, item, bar);
  ImGui::Dummy({bar.width, ui.px(18)});
  soft_text(ui, words);
}

namespace {

void draw_progress(Ui& ui, const ExportChoices& choices) {
  const double share = choices.total > 0 ? static_cast<double>(choices.done) / choices.total : 0;
  draw_share(ui, "Progress", share,
             choices.total > 0 ? fmt::format("{} of {}, {}", choices.done, choices.total, percent(share)) : "working");
}

}  // namespace

std::string export_file(const ExportChoices& choices) {
  std::string name = choices.file;
  while (!name.empty() && name.back() == ' ') name.pop_back();
  while (!name.empty() && name.front() == ' ') name.erase(0, 1);
  const std::string wanted = ending_of(choices);
  if (name.empty() || name.back() == '/') name += entry(saved(), choices.kind).file;
  if (name.ends_with(wanted) && name != wanted && !name.ends_with("/" + wanted)) return name;
  const std::string typed = name;
  for (const Saved& kind : saved())
    for (const char* other : kind.endings)
      if (typed.ends_with(other)) name = typed.substr(0, typed.size() - std::strlen(other));
  if (name.empty() || name.back() == '/') name += entry(saved(), choices.kind).file;
  return name + wanted;
}

ExportAnswer draw_export(Ui& ui, ExportChoices& choices) {
  ExportAnswer answer;
  const auto kind = [&] { return static_cast<ExportKind>(std::clamp(choices.kind, 0, count_of<ExportKind>() - 1)); };
  section(ui, "Save for others");
  if (choices.busy) {
    soft_text(ui, fmt::format("Making {}", export_file(choices)));
    draw_progress(ui, choices);
    if (button(ui, "Cancel", Icon::none, "Stops it; nothing half-made is left behind.")) answer.cancel = true;
    return answer;
  }
  const int before = choices.kind;
  choose(ui, "What", "Export kind", names_of(saved()), choices.kind,
         "A picture of what is shown now, a film of the run, a chart, the page with every number, or the run itself.");
  if (choices.kind != before) {  // a name nobody has changed follows
    for (const Saved& other : saved())
      if (std::string_view(choices.file).starts_with(std::string(other.file) + "."))
        set_file(choices, entry(saved(), choices.kind).file);
  }
  switch (kind()) {
    case ExportKind::picture:
      choose(ui, "Size", "Picture size", names_of(kPictureSizes), choices.picture_size, "Width and height in pixels.");
      break;
    case ExportKind::film:
      draw_film(ui, choices);
      break;
    case ExportKind::chart:
      draw_chart(ui, choices);
      break;
    case ExportKind::report:
    case ExportKind::sheet:
    case ExportKind::labels:
    case ExportKind::card:
    case ExportKind::handout:
      row(ui, "Paper");
      choose_paper(ui, choices);
      soft_text(ui, export_help(kind()), true);
      break;
    case ExportKind::run:
      soft_text(ui, "The run itself, moment by moment, with its scene: Open shows it again.", true);
      if (!choices.has_run) soft_text(ui, "There is none yet: press Play or Drive first.", true);
      break;
  }
  row(ui, "File name");
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  before_field(ui, "File name");
  ImGui::InputText("##export file", choices.file, sizeof choices.file);
  after_field(ui, "File name");
  if (!ImGui::IsItemActive()) set_file(choices, export_file(choices));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  row(ui, "Goes into");
  const float wide = ImGui::GetContentRegionAvail().x;
  soft_text(ui, fitted_end(ui.fonts.small, choices.folder, wide));
  tooltip(ui, choices.folder);
  remember_readout(ui, "Folder", {corner.x, corner.y, wide + ui.px(92), ui.fonts.small->FontSize});

  const bool needs_run = entry(saved(), choices.kind).of_run ||
                         (kind() == ExportKind::chart && entry(offered_charts(), choices.chart_of).of_run);
  const bool possible = (!needs_run || choices.has_run) && (kind() != ExportKind::handout || choices.has_lesson);
  if (button(ui, "Make it", Icon::none, "Writes the file. If there is one of that name, you are asked first.", possible,
             0, possible)) {
    ExportRequest request;
    request.kind = kind();
    request.file = export_file(choices);
    const Size& shown =
        kind() == ExportKind::film ? entry(kFilmSizes, choices.film_size) : entry(kPictureSizes, choices.picture_size);
    request.width = shown.width;
    request.height = shown.height;
    request.slow = entry(kSpeeds, choices.film_speed).slow;
    request.labels = choices.film_labels;
    request.paper = choices.paper;
    request.chart_of = std::string(entry(offered_charts(), choices.chart_of).key);
    answer.make = std::move(request);
  }
  ImGui::SameLine();
  if (button(ui, "Open folder", Icon::none, "Shows the folder in the file manager: " + choices.folder))
    answer.open_folder = true;
  if (!choices.said.empty()) soft_text(ui, choices.said, true);
  return answer;
}

}  // namespace sidehill::screen
