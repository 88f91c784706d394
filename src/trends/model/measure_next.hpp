#pragma once
#include "plate/fit/next_measurement.hpp"
#include "trends/model/plate_study.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// What could be measured on this plate beside what has been.
plate::Measurable measurable_on(const PlateStudy& study);

/// What is to be done for it, in a sentence.
std::string what_words(const plate::NextMeasurement& m, const plate::Measurable& what);

/// What to measure next, best first, in words; a sentence each.
std::vector<std::string> words_of(const std::vector<plate::NextMeasurement>& next,
                                  const plate::Measurable& what,
                                  std::span<const plate::ShiftForecast> forecasts);

} // namespace platewright::trends
