// The outline in a drawing, and the f-holes.
#include "fuzz/harness.hpp"
#include "plate/shape/hole_text.hpp"
#include "plate/shape/outline.hpp"

using namespace platewright;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto outline = plate::outline_from_svg(fuzz::as_text({data, size}));
    if (outline)
        fuzz::hold(outline->area_mm2() > 0 && outline->size.length_mm <= 1000.5);
    const auto holes = plate::holes_from_svg(fuzz::as_text({data, size}));
    if (holes)
        for (const plate::Loop& hole : *holes)
            fuzz::hold(plate::signed_area_mm2(hole) > 0 && !plate::find_crossing(hole));
    return 0;
}
