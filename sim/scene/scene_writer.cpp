// The writing half of sim/scene/scene_file.h, and reading plain text. Needs no TOML library: a scene is a list of key =
// value.
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <system_error>

#include "sim/base/text_file.h"
#include "sim/scene/file_format.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "sim/scene/scene_lists.h"

namespace sidehill {
namespace fs = std::filesystem;
namespace {

// The shortest decimal that the reader turns back into exactly this SI value. Dividing by the unit and multiplying
// again may miss by the last bit, so neighbours are tried; every value that came from a file has such a decimal.
template <class ToSi>
std::string shortest(double si, double value, ToSi to_si) {
  const auto back = [&](double candidate) { return to_si(candidate) == si; };
  for (int digits = 6; digits <= 17; ++digits) {
    const std::string text = fmt::format("{:.{}g}", value, digits);
    if (back(std::strtod(text.c_str(), nullptr))) return text;
  }
  for (double up = value, down = value, i = 0; i < 4; ++i) {
    up = std::nextafter(up, INFINITY), down = std::nextafter(down, -INFINITY);
    if (back(up)) return fmt::format("{:.17g}", up);
    if (back(down)) return fmt::format("{:.17g}", down);
  }
  return fmt::format("{:.17g}", value);
}
template <class T>
std::string decimal(const NumberFieldOf<T>& field, const T& object) {
  return shortest(*field.at(const_cast<T&>(object)), file_value(field, object),
                  [&](double candidate) { return candidate * field.to_si + field.offset; });
}

template <class T>
std::string value_text(const FieldOf<T>& field, const T& object) {
  T& readable = const_cast<T&>(object);  // accessors serve both ways
  if (const auto* n = std::get_if<NumberFieldOf<T>>(&field.kind)) return decimal(*n, object);
  if (const auto* f = std::get_if<FlagFieldOf<T>>(&field.kind)) return *f->at(readable) ? "true" : "false";
  if (const auto* t = std::get_if<TextFieldOf<T>>(&field.kind)) {
    const std::string& text = *t->at(readable);
    if (text.empty() && field.only_set) return "";
    return t->is_date && !text.empty() ? text : in_quotes(text);
  }
  if (const auto* c = std::get_if<ChoiceFieldOf<T>>(&field.kind))
    return in_quotes(c->choices[static_cast<std::size_t>(c->get(object))]);
  if (const auto* u = std::get_if<CountFieldOf<T>>(&field.kind)) return fmt::format("{}", *u->at(readable));
  if (const auto* m = std::get_if<MaybeFieldOf<T>>(&field.kind)) {
    if (!*m->at(readable)) return "";
    return shortest(**m->at(readable), **m->at(readable) / m->to_si,
                    [&](double candidate) { return candidate * m->to_si; });
  }
  const auto& answer = *std::get<AnswerFieldOf<T>>(field.kind).at(readable);
  return answer ? fmt::format("{}", *answer) : in_quotes("never");
}

}  // namespace

std::string text_in_file(const Field& field, const Scene& scene) { return value_text(field, scene); }

// Moves every default onto a value that a file can state exactly, so that what is written comes back bit for bit.
Scene default_scene() {
  Scene scene;
  for (const Field& field : scene_fields())
    if (const auto* number = std::get_if<NumberField>(&field.kind))
      set_file_value(*number, scene, file_value(*number, scene));
  return scene;
}

std::string write_scene(const Scene& scene) {
  std::string text = "# Every value of the scene; nothing is left to defaults.\n";
  if (!scene.vehicle_file.empty())
    text += "# The machine came from vehicle_file = " + in_quotes(scene.vehicle_file) + "\n";
  if (!scene.job_file.empty()) text += "# The job came from job_file = " + in_quotes(scene.job_file) + "\n";
  text += format_line();
  std::string_view table;
  for (const Field& field : scene_fields()) {
    const std::size_t dot = field.key.rfind('.');
    const std::string_view in = dot == field.key.npos ? std::string_view() : field.key.substr(0, dot);
    const std::string value = value_text(field, scene);
    if (value.empty()) continue;
    if (in != table) text += fmt::format("\n[{}]\n", table = in);
    text += fmt::format("{} = {}\n", in.empty() ? field.key : field.key.substr(dot + 1), value);
  }
  for_each_list([&](const auto& list) {
    for (const auto& entry : list.entries(const_cast<Scene&>(scene))) {  // accessors serve both ways
      text += fmt::format("\n[[{}]]\n", list.name);
      for (const auto& field : list.fields())
        if (const std::string value = value_text(field, entry); !value.empty())
          text += fmt::format("{} = {}\n", field.key, value);
    }
  });
  return text;
}

std::vector<std::string> changed_settings(const Scene& from, const Scene& to, std::string_view part) {
  std::vector<std::string> out;
  for (const Field& field : scene_fields()) {
    if (!field.key.starts_with(part)) continue;
    std::string value = value_text(field, to);
    if (value != value_text(field, from)) out.push_back(fmt::format("{}={}", field.key, value));
  }
  return out;
}

}  // namespace sidehill
