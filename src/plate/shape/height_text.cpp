#include "plate/shape/height_text.hpp"

#include "base/text.hpp"
#include "plate/thickness/table_text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>

namespace platewright::plate {

base::Result<std::vector<HeightReading>> heights_from_csv(std::string_view text,
                                                          const Outline& outline) {
    std::vector<HeightReading> heights;
    std::size_t headlines = 0;
    for (const auto& line : lines_of(text)) {
        const auto fields = fields_of(line.text);
        std::array<double, 3> v{};
        bool good = fields.size() == 3;
        for (std::size_t k = 0; good && k < 3; ++k) {
            const auto number = base::parse_measure(fields[k], "mm");
            good = number.has_value();
            v[k] = number.value_or(0.0);
        }
        const bool has_numbers =
            std::any_of(fields.begin(), fields.end(), [](std::string_view field) {
                return base::parse_measure(field, "mm").has_value();
            });
        if (!good && !has_numbers && heights.empty() && headlines++ < k_most_headlines)
            continue;
        if (!good || v[2] < 0.0 || v[2] > 60.0)
            return base::Fault{wording::say(
                "Line {} (\"{}\") is no height: give x, y and the height of the outside, in "
                "mm. Nothing was stored.",
                line.number, as_quoted(line.text))};
        if (!outline.holds({v[0], v[1]}))
            return base::Fault{
                wording::say("The height in line {} lies outside the outline. Nothing was stored.",
                             line.number)};
        heights.push_back({{v[0], v[1]}, v[2]});
    }
    if (heights.empty())
        return base::Fault{wording::say("No line of it holds a height. Nothing was stored.")};
    return heights;
}

} // namespace platewright::plate
