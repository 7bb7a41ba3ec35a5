// All panels of the window over a desk, with ImGui but without any window: clicked by label.
#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "render/screen/panels/panels.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/hands.h"

namespace sidehill {
using namespace text;
using namespace page;
using namespace screen;

struct Table : Hands<Table> {
  Desk desk;
  Session& session = desk.session;
  ViewChoices choices;

  explicit Table(const char* scene = "first_slope", float scale = 1)
      : Hands(scale), desk(load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + scene + ".toml")) {
    frame();
    frame();
  }
  void draw() { draw_panels(ui, desk, choices, layout_of(width, height, ui.scale, desk, choices)); }
  // Items the keyboard does not get to: neither in its order nor only to be read, nor another name for such a one.
  std::vector<std::string> unreached() const {
    const auto served = [&](const std::string& label) {
      return std::ranges::find(ui.order, label) != ui.order.end() || ui.readouts.contains(label);
    };
    std::vector<std::string> left;
    for (const auto& [label, rect] : ui.items) {
      const auto same_place = [&, at = rect](const auto& other) {
        const Rect& r = other.second;
        return r.x == at.x && r.y == at.y && r.width == at.width && r.height == at.height && served(other.first);
      };
      if (!served(label) && std::ranges::none_of(ui.items, same_place)) left.push_back(label);
    }
    return left;
  }
};

}  // namespace sidehill
