//! One sound examination, rightly accepted, and its sheet. All of it is invented.

/// Above 3 dB, or longer than 35 mm and above -7 dB, rejected; above -7 dB recorded; else accepted. INVENTED.
pub const SHEET: &str = "title = 'Level and length (INVENTED)'\nsource = 'invented for these tests, no document'\n\
    checked-by = 'nobody real'\nmeasure = 'level'\nlength-by = 'drop-6'\n\
    [[row]]\nabove = 3\nverdict = 'reject'\n[[row]]\nlength-over = '35mm'\nabove = -7\nverdict = 'reject'\n\
    [[row]]\nabove = -7\nverdict = 'record'\n[[row]]\nat-most = -7\nverdict = 'accept'\n";

/// A sound examination of one weak echo, as it is typed in a day.
pub const SOUND: &str = "\
title \"invented\"
examiner \"invented\" certificate=\"none\"
procedure \"invented\"
date 2026-03-14
material steel
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5 haz=10
linearity screen large=80,70,60,50,40 small=40,35,30,25,20
linearity gain set=80,80,40 change=-6,-12,6 shown=40,20,79
probe p60 angle=60 frequency=4 element=8x9 front=11 wedge=2.73 wedge-path=8
timebase p60 path=25,100 time=17.86,63.94
angle p60 depth=15 distance=26.2
angle p60 depth=25 distance=43.5
dac p60 path=20 height=80 gain=34 hole=3
dac p60 path=40 height=80 gain=38 hole=3
dac p60 path=60 height=80 gain=42 hole=3
dac p60 path=80 height=80 gain=45.5 hole=3
dac p60 path=100 height=80 gain=49 hole=3
transfer p60 block=40:41,80:47.5 part=40:42,80:48.9
tolerance angle=1 path=0.3 index=0.5 standoff=0.5 thickness=0.2 height=5
check p60 path=100 shown=99.8 height=79 gain=48.9
criteria it
reading 1 probe=p60 side=a x=100 standoff=60.4 path=62 height=35 gain=50
reading 1 probe=p60 side=a x=88 standoff=60.4 path=62 height=8 gain=50 sweep=along
reading 1 probe=p60 side=a x=91 standoff=60.4 path=62 height=14 gain=50 sweep=along
reading 1 probe=p60 side=a x=94 standoff=60.4 path=62 height=24 gain=50 sweep=along
reading 1 probe=p60 side=a x=97 standoff=60.4 path=62 height=32 gain=50 sweep=along
reading 1 probe=p60 side=a x=100 standoff=60.4 path=62 height=35 gain=50 sweep=along
reading 1 probe=p60 side=a x=103 standoff=60.4 path=62 height=31 gain=50 sweep=along
reading 1 probe=p60 side=a x=106 standoff=60.4 path=62 height=24 gain=50 sweep=along
reading 1 probe=p60 side=a x=109 standoff=60.4 path=62 height=14 gain=50 sweep=along
reading 1 probe=p60 side=a x=112 standoff=60.4 path=62 height=8 gain=50 sweep=along
check p60 path=100 shown=100.1 height=82 gain=48.9
";
