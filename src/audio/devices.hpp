#pragma once
#include <string>
#include <vector>

namespace platewright::audio {

/// An input as the sound system names it.
struct Device {
    std::string name;      ///< "host API: device", the same from run to run; what is remembered
    int channels = 0;
    double default_rate_hz = 0;
    bool is_default = false;
    bool operator==(const Device&) const = default;
};

/// What the maker chose. An empty name is the system's default input; rate 0 the device's own.
struct InputChoice {
    std::string name;
    double sample_rate_hz = 0; ///< 44 100 to 192 000, or 0
    int channel = 0;           ///< counted from 0
    bool operator==(const InputChoice&) const = default;
};

/// All inputs now present. Looks afresh each time; takes up to some 100 ms. Must not be called while a
/// Capture is open (PortAudio lists devices only when it starts up): use Capture::devices then.
std::vector<Device> list_inputs();

} // namespace platewright::audio
