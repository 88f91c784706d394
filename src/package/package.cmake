# What is installed beside the program, and the packages made of it: a Debian package (cpack -G DEB).
# `sh third_party/setup package` makes and checks it.
include(GNUInstallDirs)
set(package_files ${CMAKE_CURRENT_LIST_DIR})
include(${package_files}/names.cmake)

# Debian wants manual pages and the changelog compressed, and the same bytes every time (gzip -n).
find_program(GZIP_PROGRAM gzip REQUIRED)
set(compressed_files "")
function(compressed source name destination)
  set(target ${CMAKE_BINARY_DIR}/package/${name}.gz)
  get_filename_component(folder ${target} DIRECTORY)
  file(MAKE_DIRECTORY ${folder})
  add_custom_command(OUTPUT ${target} DEPENDS ${source} VERBATIM
                     COMMAND ${CMAKE_COMMAND} -E copy ${source} ${CMAKE_BINARY_DIR}/package/${name}
                     COMMAND ${GZIP_PROGRAM} -9nf ${CMAKE_BINARY_DIR}/package/${name})
  install(FILES ${target} DESTINATION ${destination})
  set(compressed_files ${compressed_files} ${target} PARENT_SCOPE)
endfunction()
compressed(${CMAKE_SOURCE_DIR}/docs/platewright.1 man/platewright.1 ${CMAKE_INSTALL_MANDIR}/man1)
foreach(language de it)
  compressed(${CMAKE_SOURCE_DIR}/docs/platewright.${language}.1 man-${language}/platewright.1
             ${CMAKE_INSTALL_MANDIR}/${language}/man1)
endforeach()
compressed(${named_files}/changelog changelog ${CMAKE_INSTALL_DOCDIR})
add_custom_target(package_texts ALL DEPENDS ${compressed_files})

install(FILES ${package_files}/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${named_files}/${app_id}.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES ${named_files}/${app_id}.metainfo.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/metainfo)
install(FILES ${package_files}/platewright-mime.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages
        RENAME platewright.xml)
install(FILES ${package_files}/platewright.svg RENAME ${app_id}.svg
        DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
install(FILES ${package_files}/application-x-platewright-bundle.svg
        DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/mimetypes)
install(FILES ${package_files}/completion.bash RENAME platewright
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES ${package_files}/completion.zsh RENAME _platewright
        DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES ${package_files}/completion.fish RENAME platewright.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)

# What a maker reads, and the invented workshop. How we measure stays with the sources.
foreach(text guide guide.de guide.it json ledger-format bundle-format physics plate-model sources CHANGELOG security)
  install(FILES ${CMAKE_SOURCE_DIR}/docs/${text}.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
endforeach()
install(FILES ${CMAKE_SOURCE_DIR}/docs/CITATION.cff DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY ${CMAKE_SOURCE_DIR}/docs/pictures DESTINATION ${CMAKE_INSTALL_DOCDIR}
        FILES_MATCHING PATTERN "*.png")
install(DIRECTORY ${CMAKE_SOURCE_DIR}/sample-audio DESTINATION ${CMAKE_INSTALL_DATADIR}/platewright
        FILES_MATCHING PATTERN "*.flac" PATTERN "*.csv" PATTERN "*.json" PATTERN "README.md"
        PATTERN "tables" EXCLUDE)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME platewright)
set(CPACK_PACKAGE_CONTACT ${PLATEWRIGHT_CONTACT})
set(CPACK_PACKAGE_DIRECTORY ${CMAKE_BINARY_DIR}/package)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
    OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
# A package a release, for the libraries' names differ: whoever goes from one release to the next gets the next one's.
cmake_host_system_information(RESULT debian QUERY DISTRIB_VERSION_ID)
set(CPACK_DEBIAN_PACKAGE_VERSION ${PROJECT_VERSION}+deb${debian})
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# Loaded at run time, so no tool sees that they are needed: the lettering, and OpenGL's own drawing.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-lato, libgl1")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "libgl1-mesa-dri, libasound2-plugins, shared-mime-info, desktop-file-utils, speech-dispatcher, speech-dispatcher-espeak-ng")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "listen to the taps of violin plates and follow their modes")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
"A maker of violins, violas or cellos carves a top or a back, taps it and
listens. Platewright hears the taps through a microphone, finds the plate's
modes with frequency, damping and how sure each is, keeps every tap of every
session with its sound, and shows how each mode drifts as wood comes off,
against the last session and against a plate that the maker liked.
.
It advises and promises no tone: wood that is off can't be put back. The demo
workshop that comes with it is invented.")
# Packing builds nothing: `setup package` has built what goes in.
set(CMAKE_SKIP_INSTALL_ALL_DEPENDENCY ON)
include(CPack)
