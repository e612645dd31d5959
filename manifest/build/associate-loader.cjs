/** Appends `CustomFunctions.associate(id, function)` to a room, so that its source stays free of the host. */
module.exports = function associateLoader(source) {
  const calls = this.getOptions()
    .associate.filter(({ sourceFileName }) => sourceFileName === this.resourcePath)
    .map(({ id, functionName }) => `CustomFunctions.associate("${id}", ${functionName});`);
  return [source, ...calls].join("\n");
};
