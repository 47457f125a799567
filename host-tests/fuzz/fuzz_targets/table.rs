#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| halfskip_host_tests::fuzzed::table(data));
