# The bot in a container: no build step, no root, no secrets. Settings come as environment variables; data live in /data.
# What Node made of the program is kept in /tmp, so that the health check of each minute need not make it again.
FROM node:24-bookworm-slim

ENV NODE_ENV=production \
    RYEBELL_DATA=/data \
    RYEBELL_GARDEN=/garden/garden.yaml \
    HOST=0.0.0.0 \
    PORT=8080 \
    NODE_COMPILE_CACHE=/tmp/ryebell

WORKDIR /app
COPY package.json package-lock.json ./
# The image brings Node; the project's own copy of it is a development dependency.
RUN npm ci --omit=dev --ignore-scripts --no-audit --no-fund && npm cache clean --force
COPY src src
COPY shared shared
COPY config config
COPY LICENSE README.md ./

RUN mkdir -p /data /garden && chown node:node /data
USER node
VOLUME ["/data"]
EXPOSE 8080
HEALTHCHECK --interval=60s --timeout=10s --start-period=30s --retries=3 CMD ["node", "src/start.mjs", "serve-check"]
STOPSIGNAL SIGTERM
CMD ["node", "src/start.mjs", "run"]
