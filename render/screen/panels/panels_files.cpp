// Over the picture: files opened last, unsaved work found, the files of a folder, and a line to type a path into.
#include <fmt/format.h>

#include <cstring>

#include "render/screen/desk/files.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "sim/scene/data_files.h"

namespace sidehill::screen {
namespace fs = std::filesystem;
namespace {

// A row to be pressed, its second part in the soft ink. Returns true if it was.
bool row(Ui& ui, const std::string& id, const std::string& label, const std::string& more, float width) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float height = ui.px(24);
  ImGui::PushID(id.c_str());
  bool clicked = ImGui::InvisibleButton("##row", {width, height});
  const Rect rect{corner.x, corner.y, width, height};
  remember(ui, label, rect);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const bool focused = reach(ui, label, rect);
  if (ImGui::IsItemHovered() || focused) list.AddRectFilled(rect.low(), rect.high(), colour(theme::kTrough), ui.px(4));
  if (focused && ui.enter) clicked = true;
  const float y = corner.y + (height - ui.fonts.text->FontSize) / 2;
  const std::string name = fitted(ui.fonts.text, label, width - ui.px(12));
  text_at(list, ui.fonts.text, {corner.x + ui.px(6), y}, theme::kInk, name);
  const float used = size_of(ui.fonts.text, name).x + ui.px(24);
  if (width - used > ui.px(40))
    text_at(list, ui.fonts.small, {corner.x + width - ui.px(6), y + ui.px(1)}, theme::kInkSoft,
            fitted(ui.fonts.small, more, width - used), 1);
  ImGui::PopID();
  return clicked;
}

void type_into(ViewChoices& choices, const fs::path& path) {
  const std::string text = path.string();
  if (text.size() < sizeof choices.typed_path) std::strcpy(choices.typed_path, text.c_str());
}

fs::path folder_of(const Desk& desk, const ViewChoices& choices) {
  if (!choices.looked_into.empty()) return choices.looked_into;
  if (!desk.path().empty()) {
    std::error_code error;
    const fs::path whole = fs::absolute(desk.path(), error);
    if (!error) return whole.parent_path();
  }
  const std::vector<fs::path> own = scene_files();
  return own.empty() ? fs::path(".") : own.front().parent_path();
}

}  // namespace

void draw_files(Ui& ui, Desk& desk, ViewChoices& choices, Rect view) {
  ImGui::SetNextWindowPos({view.x + ui.px(12), view.y + ui.px(12)});
  ImGui::SetNextWindowSize({std::min(view.width - ui.px(24), ui.px(620)), view.height - ui.px(24)});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Files", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  const float width = ImGui::GetContentRegionAvail().x;
  std::optional<fs::path> wanted;

  // The line first: it is what saving needs.
  if (choices.typed_path[0] == 0) {
    type_into(choices, usual_place(desk));
  }
  soft_text(ui, "File (.toml scene, .run recorded run). A file dropped on the window opens too.", true);
  ImGui::SetNextItemWidth(width);
  before_field(ui, "Path");
  const bool entered =
      ImGui::InputText("##path", choices.typed_path, sizeof choices.typed_path, ImGuiInputTextFlags_EnterReturnsTrue);
  after_field(ui, "Path");
  const fs::path typed = choices.typed_path;
  std::error_code error;
  const bool exists = fs::is_regular_file(typed, error);
  if (button(ui, "Open this file", Icon::none, "Reads the file named above. Key: Enter in the line") || entered)
    wanted = typed;
  ImGui::SameLine();
  const bool replaces = exists && typed != desk.path();
  if (button(ui, replaces ? "Save in its place" : "Save scene there", Icon::none,
             "Every value of the scene, in words; what is there is replaced", false, 0,
             typed.extension() == ".toml" && !typed.stem().empty())) {
    if (save_file(desk, typed)) {
      remember_file(choices.state_folder, typed);
      choices.drawer = Drawer::none;
    }
  }
  ImGui::SameLine();
  if (button(ui, "Close files", Icon::close, "Back to the picture. Keys: Escape, Ctrl+O") || escape_pressed())
    choices.drawer = Drawer::none;

  if (desk.message == kUnsavedFound) desk.message.clear();  // it stands below
  if (!desk.message.empty()) {
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(desk.message_is_bad ? theme::kLifted : theme::kInkSoft));
    wrapped_words((desk.message_is_bad ? "! " : "") + desk.message);
    ImGui::PopStyleColor();
  }
  ImGui::BeginChild("##lists", {0, 0});
  const float inner = ImGui::GetContentRegionAvail().x;
  FileLists& lists = choices.files;
  const fs::path folder = folder_of(desk, choices);
  if (ImGui::GetTime() - lists.read_at > 1 || lists.folder != folder) {
    lists = {ImGui::GetTime(), folder, look_into(folder), recent_files(choices.state_folder),
             unsaved_work(choices.state_folder)};
  }
  std::optional<UnsavedWork> found;
  if (!lists.unsaved.empty()) section(ui, "Not saved when the program last ended");
  for (const UnsavedWork& work : lists.unsaved) {
    const std::string name = work.title.empty() ? "a scene" : work.title;
    if (row(ui, work.file.string(), "Unsaved: " + name, work.when, inner)) found = work;
  }
  if (!lists.recent.empty()) section(ui, "Opened last");
  for (const fs::path& file : lists.recent) {
    if (row(ui, "last " + file.string(), "Last: " + file.filename().string(), file.parent_path().string(), inner))
      wanted = file;
  }
  section(ui, "Folders");
  for (const auto& [name, place] : {std::pair{"Your pictures", choices.pictures}, {"Your machines", machines_folder()}})
    if (fs::is_directory(place, error) && place != folder && row(ui, name, name, place.string(), inner))
      choices.looked_into = place;
  section(ui, "In this folder", fitted(ui.fonts.small, folder.string(), inner * 0.6f));
  if (row(ui, "show folder", "Open folder", "in the file manager", inner)) {
    open_folder(choices, folder);
    desk.message = choices.making.said;
    desk.message_is_bad = false;
  }
  if (folder.has_parent_path() && folder.parent_path() != folder && row(ui, "..", "..", "the folder above", inner))
    choices.looked_into = folder.parent_path();
  for (const FolderEntry& entry : lists.entries) {
    const std::string name = entry.path.filename().string() + (entry.is_folder ? "/" : "");
    if (!row(ui, entry.path.string(), name, entry.title, inner)) continue;
    if (entry.is_folder)
      choices.looked_into = entry.path;
    else
      wanted = entry.path;
  }
  ImGui::EndChild();
  if (found) want_to_take_up(desk, choices, *found);
  if (wanted) {
    type_into(choices, *wanted);
    want_to_open(desk, choices, *wanted);
  }
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen
