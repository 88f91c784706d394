// Caliper readings, outlines and f-holes as tables. The first byte says which.
#include "fuzz/harness.hpp"
#include "plate/shape/hole_text.hpp"
#include "plate/thickness/thickness.hpp"

#include <cmath>

using namespace platewright;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0)
        return 0;
    static const plate::Outline violin =
        *plate::make_outline(plate::usual_size(modes::InstrumentKind::violin));
    const std::string_view text = fuzz::as_text({data + 1, size - 1});
    if (data[0] % 2 == 0) {
        const auto readings = plate::thickness_from_csv(text, violin);
        if (readings && !plate::fault_in(*readings, violin))
            for (const plate::ThicknessReading& r : *readings)
                fuzz::hold(r.thickness_mm > 0 && std::isfinite(r.at.x_mm + r.at.y_mm));
    } else {
        const auto outline = plate::outline_from_csv(text);
        if (outline)
            fuzz::hold(outline->area_mm2() > 0 && outline->size.length_mm <= 1000.5);
        const auto holes = plate::holes_from_csv(text);
        if (holes)
            for (const plate::Loop& hole : *holes)
                fuzz::hold(plate::signed_area_mm2(hole) > 0 && !plate::find_crossing(hole));
    }
    return 0;
}
