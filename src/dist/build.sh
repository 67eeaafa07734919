#!/usr/bin/env bash
# Packs target/scenespan.jar for a machine of this kind that has no Java: an app image in
# target/dist, and on Linux a Debian package. `mvn -Pdist package` runs it after the jar is made.
# Usage: build.sh VERSION
set -euo pipefail
cd "$(dirname "$0")/../.."
version=$1
jar=target/scenespan.jar
dist=target/dist
rm -rf "$dist" && mkdir -p "$dist/input"
cp "$jar" "$dist/input/"

# What of Java the program uses; zipfs serves the page out of the jar.
jlink --add-modules java.base,java.desktop,java.logging,java.management,java.naming,jdk.unsupported,jdk.zipfs \
  --strip-debug --no-header-files --no-man-pages --compress=0 --output "$dist/runtime"
# One compiler halves the processor time of a start; a small heap grows where frames ask for it.
flags=(-Xshare:auto -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xms24m -Xss512k -XX:ReservedCodeCacheSize=24m
  -XX:MinHeapFreeRatio=20 -XX:MaxHeapFreeRatio=30 -XX:-UsePerfData)
options=()
for flag in "${flags[@]}" '-XX:SharedArchiveFile=$APPDIR/scenespan.jsa'; do
  options+=(--java-options "$flag")
done
jpackage --type app-image --name scenespan --app-version "$version" --dest "$dist" \
  --input "$dist/input" --main-jar scenespan.jar --runtime-image "$dist/runtime" "${options[@]}" \
  $([[ $OSTYPE == msys* || $OSTYPE == cygwin* ]] && echo --win-console)
rm -r "$dist/input" "$dist/runtime"

java -cp "$jar" picocli.AutoComplete --force -n scenespan -o "$dist/scenespan.bash" org.scenespan.cli.Main
java -cp "$jar" org.scenespan.cli.ManPages "$dist/man"
# Which classes commonly start: the archive itself names the jar's place, and is made where it lies.
classes=$dist/classes.txt
: > "$classes"
for command in "bracket --simulate flat --sessions $dist/warm --dashboard" "devices list" "sessions list --sessions $dist/warm" "--help" "plan depth --focal 50mm --aperture f/8 --distance 3m"; do
  java -XX:+UseSerialGC -Xshare:off -XX:DumpLoadedClassList="$dist/some.txt" -jar "$jar" $command > /dev/null
  cat "$dist/some.txt" >> "$classes"
done
sort -u -o "$classes" "$classes"
rm -rf "$dist/warm" "$dist/some.txt"

if [[ $OSTYPE == linux* ]] && command -v dpkg-deb > /dev/null; then
  bash src/dist/linux/debian.sh "$version"
fi
