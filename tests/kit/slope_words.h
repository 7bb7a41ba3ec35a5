// Looks in words for people for a slope of ground that is said in degrees alone. "30.5° = 59 %" is how it must stand.
#pragma once
#include <regex>
#include <string>
#include <vector>

namespace sidehill {

// The first number of degrees in `text` that is neither a slope with its per cent nor known to be something else, with
// what stands around it; empty where there is none. Where a line is broken does not matter.
inline std::string slope_in_degrees_alone(const std::string& text) {
  // Each is taken out before the rest is looked at. `N` stands for a number of degrees.
  static const std::vector<std::regex> apart = [] {
    std::vector<std::regex> all;
    for (std::string form : {
             "N(?= \\(at [0-9])",  // what is left, its slope in brackets behind it
             // A slope, or where it lies, in both; behind it its interval in degrees, in brackets or a column.
             "N( to N| or more)? = [0-9]+( to [0-9]+)? %( or more)?(( on)?[,( ]+N( to N| or more)\\)?)?",
             "\\+-N|±N|(^|[ (])[+-]N|stop angle N|articulation N|turned N",  // a difference, a heading
             "[Hh]eadings?:? N",                                             //
             "°[CF]|N/s",                                                    // a temperature, a rate of turning
             "N (of slope )?(left(?! [0-9])|before|past|too steep|less|more|longer)",  // what is left, what differs
             "N (from here|outside|of slope left)",                                    //
             "( |^)left N",                                                            //
             "# N(?= front| rear)|(turning (left|right)|braking) # N",  // what is left, a column behind a slope
             "line( \\*)? N|force angle N|at rest here N|meaning: N",   // a force angle
             "leans N at the most|from N to N\\. This machine|roll N|pitch N|pitched by N",  // how the machine stands
             "level ground N|at least N: (NOT )?reached|most steer N",  // tilt of an axle in balance
             "moves? [a-z -]+ by( up to)? N",                           // by how much a doubt moves a slope
             "(^|[^0-9])0\\.00°",                                       // by how much nothing moves a slope
             "to 0\\.[0-9]+°",                                          // how fine a search was
         }) {
      for (std::size_t at = 0; (at = form.find('N', at)) != form.npos; ++at)
        if (form.compare(at, 3, "NOT") != 0) form.replace(at, 1, "[0-9]+(\\.[0-9]+)?°");
      all.emplace_back(form);
    }
    return all;
  }();
  // What marks an axis stands on a line of its own, in whole degrees.
  static const std::regex mark("(^|\n)[0-9]+°(?=\n)"), spaces("\\s+"), alone("[0-9]°");
  std::string rest = std::regex_replace(std::regex_replace(text, mark, "\n"), spaces, " ");
  for (const std::regex& form : apart) rest = std::regex_replace(rest, form, "#");
  std::smatch found;
  if (!std::regex_search(rest, found, alone)) return {};
  const auto at = static_cast<std::size_t>(found.position(0));
  return rest.substr(at > 60 ? at - 60 : 0, 120);
}

}  // namespace sidehill
