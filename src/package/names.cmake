# Under which names the program is published: all of them follow from one internet domain, which must be the publisher's
# own (docs/decisions/037-names-of-a-publisher.md). Until somebody says theirs it is one that RFC 2606 keeps for examples.
#   cmake -DPLATEWRIGHT_DOMAIN=… of a build tree
#   cmake -DPLATEWRIGHT_DOMAIN=… -DNAMED_FILES=FOLDER -P src/package/names.cmake writes only the files that bear them
set(PLATEWRIGHT_DOMAIN "example.org" CACHE STRING "The publisher's own internet domain: application id, addresses, contact")
if(NOT PLATEWRIGHT_DOMAIN MATCHES "^([a-z0-9]([a-z0-9-]*[a-z0-9])?\\.)+[a-z][a-z]+$")
  message(FATAL_ERROR "PLATEWRIGHT_DOMAIN is “${PLATEWRIGHT_DOMAIN}”: give a domain in small letters, such as makers.example.org.")
endif()
set(home "https://${PLATEWRIGHT_DOMAIN}/platewright")
set(PLATEWRIGHT_CONTACT "The Platewright authors <platewright@${PLATEWRIGHT_DOMAIN}>" CACHE STRING "Who answers for a package")

# Reversed, as AppStream has it: a hyphen becomes _, and a part that begins with a digit gets one before it.
string(REPLACE "." ";" domain_parts "${PLATEWRIGHT_DOMAIN}")
list(REVERSE domain_parts)
list(TRANSFORM domain_parts REPLACE "-" "_")
list(TRANSFORM domain_parts REPLACE "^([0-9])" "_\\1")
list(JOIN domain_parts "." app_id)
string(APPEND app_id ".Platewright")

if(CMAKE_SCRIPT_MODE_FILE)
  set(named_files "${NAMED_FILES}")
else()
  set(named_files "${CMAKE_BINARY_DIR}/package/named")
endif()
foreach(kind desktop metainfo.xml)
  configure_file(${CMAKE_CURRENT_LIST_DIR}/platewright.${kind}.in "${named_files}/${app_id}.${kind}" @ONLY)
endforeach()
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog.in "${named_files}/changelog" @ONLY)
