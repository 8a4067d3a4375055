#!/bin/sh
# Starts Daylight from its built jar (mvn package), as fast as a cold start goes: src/main/start/daylight.sh gaps demo/harbour-pickup.yaml
#
# A command that is over in seconds is slowed down by the optimising compiler, which takes more time than it saves: these
# run on the first compiler alone. Classes come from an archive beside the jar, made by the first command that ends.
# Long commands and the window keep the optimising compiler.
here=$(cd "$(dirname "$0")/../../.." && pwd)
jar="$here/target/daylight.jar"
archive="$here/target/daylight.jsa"
if [ ! -f "$jar" ]; then
    echo "daylight: there is no $jar yet. Build it first: mvn package -DskipTests" >&2
    exit 2
fi
quick=""
case "${1:-}" in
    bench | inspect | report | trim | trial) ;;
    *) quick="-XX:TieredStopAtLevel=1" ;;
esac
if [ "$archive" -nt "$jar" ]; then
    classes="-XX:SharedArchiveFile=$archive"
elif [ -n "$quick" ] && [ -w "$here/target" ]; then
    classes="-XX:ArchiveClassesAtExit=$archive"
else
    classes="-Xshare:auto"
fi
exec java -Xshare:auto -Xlog:disable -Xlog:all=off $quick "$classes" -jar "$jar" "$@"
