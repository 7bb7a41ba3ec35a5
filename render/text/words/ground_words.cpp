#include "render/text/words/ground_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "render/text/words/words.h"

namespace sidehill::text {
namespace {

std::string lower(std::string text) {
  std::ranges::transform(text, text.begin(),
                         [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return text;
}

}  // namespace

std::string feature_name(const Feature& feature) {
  return feature.name.empty() ? std::string(info(feature.kind).name) : feature.name;
}

bool is_round(const Feature& feature) { return info(feature.kind).round; }

bool is_sunk(const Feature& feature) { return info(feature.kind).sunk; }

std::string feature_size(const Feature& feature) {
  const std::string plan =
      is_round(feature) ? metres(feature.length) + " across" : metres(feature.length) + " by " + metres(feature.width);
  return fmt::format("{} {}, {}", metres(feature.height), is_sunk(feature) ? "deep" : "high", plan);
}

std::string feature_words(const Feature& feature) {
  return fmt::format("{}  {}", feature_name(feature), feature_size(feature));
}

std::string feature_sentence(const Feature& feature) {
  std::string name = feature_name(feature);
  const std::string kind = lower(std::string(info(feature.kind).name));
  if (lower(name).find(kind) == std::string::npos) name += " (" + kind + ")";
  return fmt::format("{}, {}", name, feature_size(feature));
}

std::string grip_words(const Soil& soil) {
  if (soil.adhesion_unlimited) return "grip taken as unlimited";
  if (soil.adhesion_across_ratio == 1) return fmt::format("grip {:.2f}", soil.adhesion);
  return fmt::format("grip {:.2f} along the wheels, {:.2f} across", soil.adhesion,
                     soil.adhesion * soil.adhesion_across_ratio);
}

}  // namespace sidehill::text
