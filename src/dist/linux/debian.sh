#!/usr/bin/env bash
# Makes the Debian package of target/dist/scenespan. Usage: debian.sh VERSION
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$here/../../../target/dist"
version=$1
tree=tree
rm -rf "$tree"
install -d "$tree/opt" "$tree/usr/bin" "$tree/usr/share/man/man1" "$tree/usr/share/doc/scenespan" \
  "$tree/usr/share/bash-completion/completions" "$tree/lib/systemd/system" "$tree/DEBIAN"
cp -a scenespan "$tree/opt/scenespan"
install -m 644 classes.txt "$tree/opt/scenespan/lib/app/classes.txt"
ln -s /opt/scenespan/bin/scenespan "$tree/usr/bin/scenespan"
install -m 644 scenespan.bash "$tree/usr/share/bash-completion/completions/scenespan"
for page in man/*.1; do
  gzip -9 -n -c "$page" > "$tree/usr/share/man/man1/$(basename "$page").gz"
done
install -m 644 "$here/scenespan.service" "$tree/lib/systemd/system/scenespan.service"
install -m 644 "$here/60-scenespan.rules" "$tree/usr/share/doc/scenespan/60-scenespan.rules"
install -m 755 "$here/postinst" "$here/prerm" "$here/postrm" "$tree/DEBIAN/"
size=$(du -sk "$tree" | cut -f1)
sed -e "s/@VERSION@/$version/" -e "s/@ARCHITECTURE@/$(dpkg --print-architecture)/" \
  -e "s/@SIZE@/$size/" "$here/control" > "$tree/DEBIAN/control"
dpkg-deb --root-owner-group -Zgzip --build "$tree" "scenespan_${version}_$(dpkg --print-architecture).deb"
rm -r "$tree"
