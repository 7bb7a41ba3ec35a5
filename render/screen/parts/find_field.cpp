#include "render/screen/parts/find_field.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <utility>

#include "render/screen/kit/caution.h"
#include "render/text/words/words.h"
#include "sim/base/errors.h"
#include "sim/scene/scene_file.h"
#include "sim/scene/scene_lists.h"

namespace sidehill::screen {
namespace {

constexpr std::size_t kMostRows = 60;

std::string small_letters(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

std::vector<std::string> words_in(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : small_letters(text) + " ") {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::exchange(word, {}));
    }
  }
  return words;
}

bool holds_all(const std::string& text, const std::vector<std::string>& words) {
  return std::ranges::all_of(words, [&](const std::string& word) { return text.find(word) != text.npos; });
}

std::string number_words(double value) { return fmt::format("{:.6g}", value); }

// What an entry's field is called: its own name, else its key in words without the unit.
template <class T>
std::string name_in_list(const FieldOf<T>& field) {
  if (!field.name.empty()) return std::string(field.name);
  std::string text(field.key.substr(0, field.key.size() - key_unit(field.key).suffix.size()));
  std::ranges::replace(text, '_', ' ');
  std::ranges::replace(text, '.', ' ');
  return text;
}

// One field of an object as a row; false for what cannot be typed in one line.
template <class T>
bool fill_in(FoundDatum& datum, const FieldOf<T>& field, const T& object, Units units) {
  T& there = const_cast<T&>(object);  // read only: the accessors serve both ways
  datum.help = fmt::format("{} ({})", field.help, allowed(field));
  if (const auto* number = std::get_if<NumberFieldOf<T>>(&field.kind)) {
    const TypedUnit typed = typed_unit(field.key, units, number->max);
    datum.number = true;
    datum.file_max = number->max;
    datum.value = number_words(typed.shown(file_value(*number, object)));
    datum.unit = typed.unit;
    if (units != Units::si)
      datum.help = fmt::format("{} ({:.4g} to {:.4g} {})", field.help, typed.shown(number->min),
                               typed.shown(number->max), typed.unit);
  } else if (const auto* flag = std::get_if<FlagFieldOf<T>>(&field.kind)) {
    datum.choices = {"false", "true"};
    datum.value = *flag->at(there) ? "true" : "false";
  } else if (const auto* choice = std::get_if<ChoiceFieldOf<T>>(&field.kind)) {
    datum.choices.assign(choice->choices.begin(), choice->choices.end());
    datum.words = true;
    const int index = choice->get(object);
    datum.value = index >= 0 && index < static_cast<int>(datum.choices.size())
                      ? datum.choices[static_cast<std::size_t>(index)]
                      : "";
  } else if (const auto* text = std::get_if<TextFieldOf<T>>(&field.kind)) {
    datum.value = *text->at(there);
    datum.words = true;
  } else if (const auto* count = std::get_if<CountFieldOf<T>>(&field.kind)) {
    datum.value = fmt::format("{}", *count->at(there));
  } else {
    return false;
  }
  return true;
}

// All data of a scene, one after the other.
template <class Visit>
void for_each_datum(const Scene& scene, Units units, Visit visit) {
  for (const Alias& alias : scene_aliases()) {
    const Field* field = find_field(alias.targets[0]);
    FoundDatum datum;
    datum.key = alias.key;
    datum.name = capital(plain_name(alias.key));
    if (field && fill_in(datum, *field, scene, units)) {
      datum.help = std::string(alias.help) + ". " + datum.help;
      visit(datum);
    }
  }
  for (const Field& field : scene_fields()) {
    FoundDatum datum;
    datum.key = field.key;
    datum.name = capital(plain_name(field.key));
    if (fill_in(datum, field, scene, units)) visit(datum);
  }
  for_each_list([&](const auto& list) {
    const auto& entries = list.entries(const_cast<Scene&>(scene));  // read only
    const std::string_view last = list.name.substr(list.name.rfind('.') + 1);
    for (std::size_t i = 0; i < entries.size(); ++i)
      for (const auto& field : list.fields()) {
        FoundDatum datum;
        datum.key = fmt::format("{}[{}].{}", list.name, i, field.key);
        std::string of(last);
        std::ranges::replace(of, '_', ' ');
        datum.name = capital(fmt::format("{} {}: {}", of, i + 1, name_in_list(field)));
        if (fill_in(datum, field, entries[i], units)) visit(datum);
      }
  });
}

// One row: name, and what it is to be changed with.
void draw_row(Ui& ui, Session& session, FindChoices& find, const FoundDatum& datum) {
  ImGui::PushID(datum.key.c_str());
  ImGui::PushFont(ui.fonts.small);
  const std::string item = "Find: " + datum.key;
  const auto take = [&](std::string_view typed) {
    find.wrong_row.clear();
    try {
      session.edit(with_datum(session.scene(), datum, typed, ui.units));
    } catch (const InputError& error) {
      find.wrong_row = datum.key;
      find.wrong = error.what();
    }
  };
  wrapped_words(datum.name);
  tooltip(ui, datum.help + "\n" + datum.key);
  const float width = ImGui::GetContentRegionAvail().x;
  if (!datum.choices.empty()) {
    std::vector<std::string> names = datum.choices;
    for (std::string& name : names) std::ranges::replace(name, '_', ' ');
    int index = static_cast<int>(std::ranges::find(datum.choices, datum.value) - datum.choices.begin());
    if (choice(ui, item, names, index, datum.help, width) && index < static_cast<int>(datum.choices.size()))
      take(datum.choices[static_cast<std::size_t>(index)]);
  } else {
    char shown_now[sizeof find.typed] = {};
    std::strncpy(shown_now, datum.value.c_str(), sizeof shown_now - 1);
    const bool this_row = find.row == datum.key;
    // What is being typed is kept apart, so that it is still there when another item takes the keyboard.
    char* buffer = this_row ? find.typed : shown_now;
    ImGui::SetNextItemWidth(datum.number ? ui.px(110) : width - ui.px(8));
    before_field(ui, item);
    ImGui::InputText("##value", buffer, sizeof shown_now, ImGuiInputTextFlags_AutoSelectAll);
    after_field(ui, item);
    const bool took_over = ImGui::IsItemActivated(), done = ImGui::IsItemDeactivatedAfterEdit(),
               left = ImGui::IsItemDeactivated();
    tooltip(ui, datum.help + "\n" + datum.key);
    if (!datum.unit.empty()) {
      ImGui::SameLine();
      soft_text(ui, datum.unit);
    }
    if (done) take(buffer);
    if (left && this_row) find.row.clear();
    if (took_over) {
      std::memcpy(find.typed, buffer, sizeof shown_now);
      find.row = datum.key;
    }
  }
  if (find.wrong_row == datum.key) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    wrapped_words("! " + read_in(find.wrong, ui.units));
    remember_readout(ui, "Find is wrong", {corner.x, corner.y, width, ui.px(18)});
    ImGui::PopStyleColor();
  }
  ImGui::PopFont();
  ImGui::Dummy({0, ui.px(3)});
  ImGui::PopID();
}

}  // namespace

void flip_find(FindChoices& find) {
  find.open = !find.open;
  find.to_field = find.open;
  find.row.clear();
  find.wrong_row.clear();
}

std::vector<FoundDatum> find_data(const Scene& scene, std::string_view words, Units units) {
  const std::vector<std::string> wanted = words_in(words);
  std::vector<FoundDatum> by_name, others;
  if (wanted.empty()) return by_name;
  for_each_datum(scene, units, [&](FoundDatum& datum) {
    const std::string name = small_letters(datum.name);
    if (holds_all(name, wanted))
      by_name.push_back(std::move(datum));
    else if (holds_all(name + " " + small_letters(datum.help) + " " + small_letters(datum.key), wanted))
      others.push_back(std::move(datum));
  });
  std::ranges::move(others, std::back_inserter(by_name));
  return by_name;
}

Scene with_datum(Scene scene, const FoundDatum& datum, std::string_view typed, Units units) {
  std::string text(typed);
  if (datum.number) {
    std::ranges::replace(text, ',', '.');
    const std::size_t first = text.find_first_not_of(' ');
    const bool plain = first != text.npos && text.find_first_not_of("0123456789.+-eE ") == text.npos;
    char* end = nullptr;
    const double value = std::strtod(text.c_str(), &end);
    while (end && *end == ' ') ++end;
    if (!plain || !end || *end != '\0' || !std::isfinite(value))
      throw InputError(fmt::format("{}: a number belongs here: {}", datum.name, datum.help));
    const std::string_view last =
        std::string_view(datum.key).substr(datum.key.rfind(']') == datum.key.npos ? 0 : datum.key.rfind(']') + 2);
    text = fmt::format("{:.15g}", typed_unit(last, units, datum.file_max).file(value));
  } else if (datum.words) {
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
    text = quoted + "\"";
  }
  apply_override(scene, datum.key + "=" + text, "Find");
  return scene;
}

void draw_find(Ui& ui, Session& session, FindChoices& find) {
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::SetNextItemWidth(width - ui.px(40));
  if (find.to_field) ImGui::SetKeyboardFocusHere();
  find.to_field = false;
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, ui.px(1));
  before_field(ui, "Find words");
  ImGui::InputTextWithHint("##find words", "Plain name, e.g. tyre pressure", find.words, sizeof find.words);
  after_field(ui, "Find words");
  ImGui::PopStyleVar();
  const bool escape = escape_pressed() && find.row.empty();
  ImGui::SameLine();
  if (button(ui, "##close find", Icon::close, "Back to the sliders. Keys: Escape, /", false, ui.px(28)) || escape)
    return flip_find(find);
  const std::vector<FoundDatum> found = find_data(session.scene(), find.words, ui.units);
  if (found.empty()) {
    const bool none = find.words[0] != 0;
    soft_text(ui,
              none ? "No datum has these words in its name, its help or its key."
                   : "Type a word or two: track, pressure, bucket, slope, mass ... Every datum of the scene is found "
                     "by its plain name and changed in place.",
              true);
    return;
  }
  soft_text(ui, found.size() > kMostRows
                    ? fmt::format("{} data; the first {} stand here: type another word", found.size(), kMostRows)
                    : fmt::format("{} {}", found.size(), found.size() == 1 ? "datum" : "data"));
  ImGui::Dummy({0, ui.px(2)});
  for (std::size_t i = 0; i < std::min(found.size(), kMostRows); ++i) draw_row(ui, session, find, found[i]);
}

}  // namespace sidehill::screen
