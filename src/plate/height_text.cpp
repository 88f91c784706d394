#include "plate/height_text.hpp"

#include "base/text.hpp"
#include "plate/table_text.hpp"
#include "wording/say.hpp"

#include <array>
#include <utility>

namespace platewright::plate {

base::Result<std::vector<HeightReading>> heights_from_csv(std::string_view text,
                                                          const Outline& outline) {
    std::vector<HeightReading> heights;
    bool headline = true;
    for (const auto& line : lines_of(text)) {
        const auto fields = fields_of(line.text);
        std::array<double, 3> v{};
        bool good = fields.size() == 3;
        for (std::size_t k = 0; good && k < 3; ++k) {
            const auto number = base::parse_number(fields[k]);
            good = number.has_value();
            v[k] = number.value_or(0.0);
        }
        if (!good && std::exchange(headline, false))
            continue;
        headline = false;
        if (!good || v[2] < 0.0 || v[2] > 60.0)
            return base::Fault{wording::say(
                "Line {} (\"{}\") is no height: give x, y and the height of the outside, in "
                "mm. Nothing was stored.",
                line.number, line.text)};
        if (!outline.holds({v[0], v[1]}))
            return base::Fault{
                wording::say("The height in line {} lies outside the outline. Nothing was stored.",
                             line.number)};
        heights.push_back({{v[0], v[1]}, v[2]});
    }
    if (heights.empty())
        return base::Fault{
            std::string(wording::say("No line of it holds a height. Nothing was stored."))};
    return heights;
}

} // namespace platewright::plate
