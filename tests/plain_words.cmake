# Fails on a word that a reader of plain English stumbles over, in code, help, scenes, README.md, DEVELOPERS.md and docs.
#   cmake -P tests/plain_words.cmake            the project
#   cmake -DROOT=folder -P tests/plain_words.cmake   another tree (this is how its own test feeds it sins)
if(NOT DEFINED ROOT)
  get_filename_component(ROOT "${CMAKE_CURRENT_LIST_DIR}/.." ABSOLUTE)
endif()

# Whole words only: "environment" and "recommend" are none of them. A letter or digit makes a longer word, "_" and "-"
# do not, so that keys, options and file names are read as well.
set(words
  "[Ii]ron|IRON" "weights, or cast weights"
  "[Mm]eanwhile|MEANWHILE" "until then, or while ..."
  "[Tt]old|TOLD" "said, stated, shown, known"
  "[Rr]eckon[a-z]*|RECKON[A-Z]*" "calculate, expect"
  "[Mm]end|[Mm]ends|[Mm]ended|[Mm]ending|MEND" "repair, fix")
# Names that stood in files of earlier versions and must still be read.
set(old_names "front_iron_kg|rear_iron_kg|front_wheel_iron_kg|rear_wheel_iron_kg|--rear-iron-kg|liquid_or_iron|reference_r_front_iron")

set(files)
foreach(pattern README.md DEVELOPERS.md CHANGELOG.md docs/*.md *.sh
    terrain/*.h terrain/*.cpp vehicles/*.h vehicles/*.cpp vehicles/*.toml sim/*.h sim/*.cpp render/*.h render/*.cpp
    scenes/*.toml tests/*.h tests/*.cpp)
  file(GLOB_RECURSE found RELATIVE ${ROOT} ${ROOT}/${pattern})
  list(FILTER found EXCLUDE REGEX "^build/")
  list(APPEND files ${found})
endforeach()
list(REMOVE_DUPLICATES files)

set(sins 0)
set(read 0)
foreach(file ${files})
  math(EXPR read "${read}+1")
  # As one text: a list of lines comes apart at a bracket or a semicolon.
  file(READ ${ROOT}/${file} text)
  string(REGEX REPLACE "(${old_names})" "" text "${text}")
  set(left ${words})
  while(left)
    list(POP_FRONT left word better)
    string(REGEX MATCH "(^|[^A-Za-z0-9])(${word})([^A-Za-z0-9]|$)" found "${text}")
    if(found)
      set(found "${CMAKE_MATCH_2}")
      string(FIND "${text}" "${CMAKE_MATCH_0}" at)
      string(SUBSTRING "${text}" 0 ${at} before)
      string(REGEX REPLACE "[^\n]" "" before "${before}${CMAKE_MATCH_1}")
      string(LENGTH "${before}" line)
      math(EXPR line "${line}+1")
      message("${file}:${line}: \"${found}\" -> ${better}")
      math(EXPR sins "${sins}+1")
    endif()
  endwhile()
endforeach()

if(read LESS 20)
  message(FATAL_ERROR "only ${read} files looked at under ${ROOT}: the check looks in the wrong place")
endif()
if(sins GREATER 0)
  message(FATAL_ERROR "${sins} words to say more plainly")
endif()
message("${read} files read, no such word")
