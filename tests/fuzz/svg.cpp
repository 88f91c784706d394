// The outline in a drawing.
#include "fuzz/harness.hpp"
#include "plate/shape/outline.hpp"

using namespace platewright;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto outline = plate::outline_from_svg(fuzz::as_text({data, size}));
    if (outline)
        fuzz::hold(outline->area_mm2() > 0 && outline->size.length_mm <= 1000.5);
    return 0;
}
