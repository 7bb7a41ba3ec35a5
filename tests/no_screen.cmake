# A build without the screen part says so in one line and exit code 2, and still answers.
foreach(command "view;${SCENES}/first_slope.toml" "picture;${SCENES}/first_slope.toml;never.png"
        "film;${SCENES}/first_slope.toml;never.gif")
  execute_process(COMMAND ${PROGRAM} ${command} RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE error)
  if(NOT code EQUAL 2 OR NOT error MATCHES "^[^\n]*no screen part[^\n]*\n$" OR NOT out STREQUAL "")
    message(FATAL_ERROR "${command}: code ${code}, said: ${out}${error}")
  endif()
endforeach()
execute_process(COMMAND ${PROGRAM} solve ${SCENES}/first_slope.toml RESULT_VARIABLE code OUTPUT_VARIABLE out)
if(NOT code EQUAL 0 OR NOT out MATCHES "Wheel loads")
  message(FATAL_ERROR "solve: code ${code}")
endif()
