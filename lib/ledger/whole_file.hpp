#pragma once
#include <string>
#include <string_view>

namespace tarewell::ledger {

/// A file that stands at its path whole or not at all: it is written beside it under another name, synced,
/// renamed, and its folder synced. Unless put in place, the partial file is removed. Throws io_error, also for a folder
/// or device, and input_error for a path where a ledger or another database stands.
class whole_file {
  public:
    enum class over { files, ledgers_too }; ///< what may stand at the path and be replaced
    explicit whole_file(std::string path, over what = over::files);
    ~whole_file();
    whole_file(const whole_file&) = delete;
    whole_file& operator=(const whole_file&) = delete;

    [[nodiscard]] const std::string& path() const { return path_; }
    /// Where to write.
    [[nodiscard]] const std::string& partial() const { return partial_; }
    void put_in_place();

  private:
    std::string path_, partial_;
    bool in_place_ = false;
};

/// Writes `text` to `path`, whole or not at all.
void write_whole(const std::string& path, std::string_view text);

} // namespace tarewell::ledger
