#!/usr/bin/env bash
# Makes the self-contained application from what mvn package has built. make-image.sh TARGET JAVA_HOME
set -eu
target=$1
java_home=$2
rm -rf "$target/image" "$target/image-input"
mkdir -p "$target/image-input"
cp "$target/daylight.jar" "$target/image-input/"
cp -r "$target/lib" "$target/image-input/lib"
printf 'main-class=daylight.WindowMain\nmain-jar=daylight.jar\n' > "$target/window.properties"
"$java_home/bin/jpackage" --type app-image --name daylight --dest "$target/image" \
    --input "$target/image-input" --main-jar daylight.jar --main-class daylight.Main \
    --add-launcher "daylight-window=$target/window.properties" \
    --add-modules java.base,java.desktop,java.logging,java.management,java.naming,java.prefs,java.scripting,java.xml,jdk.charsets,jdk.localedata,jdk.unsupported,jdk.zipfs \
    --java-options -Xmx2g --java-options -Dprism.forceGPU=true
