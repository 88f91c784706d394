#include "audio/mended_file.hpp"

#include <algorithm>

namespace platewright::audio {

MendedFile::MendedFile(const std::filesystem::path& file, const StatedLength& mend)
    : in_(file, std::ios::binary), mend_(mend) {
    in_.seekg(0, std::ios::end);
    length_ = in_.tellg();
}

SF_VIRTUAL_IO& MendedFile::calls() {
    static SF_VIRTUAL_IO calls{
        [](void* self) { return static_cast<MendedFile*>(self)->length_; },
        [](sf_count_t offset, int whence, void* self) {
            return static_cast<MendedFile*>(self)->seek(offset, whence);
        },
        [](void* into, sf_count_t count, void* self) {
            return static_cast<MendedFile*>(self)->read(static_cast<char*>(into), count);
        },
        [](const void*, sf_count_t, void*) { return sf_count_t{0}; }, // it is only read
        [](void* self) { return static_cast<MendedFile*>(self)->at_; }};
    return calls;
}

sf_count_t MendedFile::seek(sf_count_t offset, int whence) {
    const sf_count_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? at_ : length_;
    at_ = std::clamp<sf_count_t>(from + offset, 0, length_);
    return at_;
}

sf_count_t MendedFile::read(char* into, sf_count_t count) {
    in_.clear();
    in_.seekg(at_);
    in_.read(into, std::max<sf_count_t>(count, 0));
    const sf_count_t got = in_.gcount();
    for (int byte = 0; byte < 4; ++byte) {
        const sf_count_t place = mend_.size_at + byte - at_;
        if (place >= 0 && place < got)
            into[place] = static_cast<char>(mend_.size >> (8 * byte) & 0xFFU);
    }
    at_ += got;
    return got;
}

} // namespace platewright::audio
