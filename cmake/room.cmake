# Flags for all of our own code: warnings on, no fused multiply-add (the same numbers on every machine).
add_library(stickwright_flags INTERFACE)
target_compile_features(stickwright_flags INTERFACE cxx_std_20)
target_compile_options(stickwright_flags INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion
                                                   -ffp-contract=off)
if(STICKWRIGHT_SANITIZE)
  target_compile_options(stickwright_flags INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all
                                                     -D_GLIBCXX_ASSERTIONS)
  target_link_options(stickwright_flags INTERFACE -fsanitize=address,undefined)
endif()

# stickwright_room(NAME SOURCES a.cpp ... USES room ... LIBRARIES target ... HEADERS <outside.h> ...)
# One room of the program: a static library whose headers are included as "room/header.h". HEADERS are those from outside
# that most of its files include: the compiler reads them once. TALKS: a room that reads, tells and draws, and leaves the
# computing to others: compiled a quarter faster.
function(stickwright_room name)
  cmake_parse_arguments(ROOM "TALKS" "" "SOURCES;USES;LIBRARIES;HEADERS" ${ARGN})
  list(TRANSFORM ROOM_SOURCES PREPEND ${name}/)
  add_library(stickwright_${name} STATIC ${ROOM_SOURCES})
  target_include_directories(stickwright_${name} PUBLIC ${CMAKE_SOURCE_DIR}/src)
  list(TRANSFORM ROOM_USES PREPEND stickwright_)
  target_link_libraries(stickwright_${name} PUBLIC ${ROOM_USES} PRIVATE stickwright_flags ${ROOM_LIBRARIES})
  target_compile_features(stickwright_${name} PUBLIC cxx_std_20)
  if(ROOM_TALKS)
    target_compile_options(stickwright_${name} PRIVATE -O1)
  endif()
  if(ROOM_HEADERS)
    target_precompile_headers(stickwright_${name} PRIVATE ${ROOM_HEADERS})
  endif()
endfunction()
