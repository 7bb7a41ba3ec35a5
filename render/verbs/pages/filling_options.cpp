#include "render/verbs/pages/filling_options.h"

#include <fmt/format.h>

#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/base/today.h"
#include "sim/plan/plan_filling.h"

namespace sidehill {

void take_axle(CLI::App& sub, std::string& axle) {
  sub.add_option("--axle", axle, "front or rear; default: every axle that holds liquid")
      ->check(CLI::IsMember({"front", "rear"}).description(""))
      ->type_name("WORD");
}

void check_pdf_name(const std::string& verb, const std::string& file, const char* what) {
  if (!file.ends_with(".pdf"))
    throw InputError(fmt::format("{}: {}: {} is written as PDF, give it a name in .pdf", verb, file, what));
}

std::vector<AxleFilling> fillings_asked(const std::string& verb, const std::string& file, const Scene& scene,
                                        const std::string& axle) {
  std::vector<AxleFilling> all = of_scene(file, [&] { return fillings_to_do(scene, file, today()); });
  if (all.empty())
    throw InputError(
        fmt::format("{}: {}: no tyre holds liquid; give one, as --set ballast.rear.fill_fraction=0.75", verb, file));
  if (axle.empty()) return all;
  std::erase_if(all, [&](const AxleFilling& filling) { return filling.front != (axle == "front"); });
  if (all.empty())
    throw InputError(fmt::format("{}: {}: --axle {}: its tyres hold no liquid, allowed {}", verb, file, axle,
                                 axle == "front" ? "rear" : "front"));
  return all;
}

}  // namespace sidehill
